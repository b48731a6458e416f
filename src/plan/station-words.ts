/** What is said of the places of stations. */
import type { Finding } from "../model/finding.ts";
import type { Loop } from "../model/plan.ts";
import type { Profile } from "../model/profile.ts";
import type { PlaceKnowledge, StationFigures } from "../model/station.ts";

/** A place that much lower than the ground round it is told, metres. */
const HOLLOW_TOLD_M = 0.1;
/** Less shade than this in the hot hours is told. */
const SHADE_TOLD = 0.5;
/** Things nearer than this share of `station.away_m` are told. */
const NEAR_SHARE = 0.5;

const m = (value: number) => `${value.toFixed(1)} m`;
const percent = (share: number) => `${(100 * share).toFixed(0)} %`;

/** Figures of a place in plain words, what speaks for and against it in the order of docs/station.md. */
export function reasonsText(figures: StationFigures, { station }: Profile): string[] {
  const { slopePercent, hollowM, sun, lead } = figures;
  const clear = figures.clearAheadM >= 2 * station.clearAheadM - 1e-9 ? "at least " : "";
  const near = (what: string, distanceM: number | undefined) =>
    distanceM === undefined ? [] : [`${m(distanceM)} from ${what}`];
  return [
    `${m(figures.straightM)} of straight wire on the shorter side`,
    `${clear}${m(figures.clearAheadM)} of clear lawn in front`,
    ...(slopePercent === undefined ? [] : [`slope ${slopePercent.toFixed(1)} %`]),
    ...(hollowM !== undefined && hollowM >= HOLLOW_TOLD_M
      ? [`in a hollow of ${hollowM.toFixed(2)} m`]
      : []),
    ...(sun === undefined
      ? []
      : [
          `shade for ${percent(sun.hotShade)} of the hot hours`,
          `${sun.hoursADay.toFixed(1)} h of sun a day`,
        ]),
    ...(lead === undefined
      ? []
      : [`lead ${m(lead.lengthM)}${lead.acrossLawn ? " across the lawn" : ""}`]),
    ...near("a concave corner", figures.cornerM),
    ...near("a passage", figures.passageM),
    ...near("an island", figures.islandM),
    ...near("water", figures.waterM),
    ...near("a public edge", figures.publicM),
  ];
}

export function stationChosen(
  { name, station }: Loop,
  figures: StationFigures,
  known: PlaceKnowledge,
  profile: Profile,
): Finding {
  const missing = [
    ...(known.heightAt ? [] : ["whether it is level (no heights)"]),
    ...(known.sunAt ? [] : ["shade (plan with --sun)"]),
    ...(figures.lead ? [] : ["the way of the lead (no outlet)"]),
  ];
  const unknown = missing.length > 0 ? ` Not looked at: ${missing.join("; ")}.` : "";
  return {
    code: "STATION_CHOSEN",
    severity: "info",
    message: `No station was given for loop ${name}: of all places on its wire this one is best, with a score of ${figures.score.toFixed(2)}: ${reasonsText(figures, profile).join(", ")}.${unknown}`,
    remedy:
      "Check the place on site: level, firm, shaded at midday, out of sight of the road, near mains power. Others are drawn as station-option; a point with role station decides.",
    atM: station.atM,
  };
}

/** What is wrong with a station's place beside straight wire and clear lawn, which have a finding of their own. */
function faultsOf(figures: StationFigures, { station }: Profile): string[] {
  const { slopePercent, hollowM, sun, lead } = figures;
  const nearM = NEAR_SHARE * station.awayM;
  const near = (what: string, distanceM: number | undefined) =>
    distanceM !== undefined && distanceM < nearM ? [`${what} is ${m(distanceM)} away`] : [];
  return [
    ...(slopePercent !== undefined && slopePercent > station.slopeMaxPercent
      ? [
          `the ground has a slope of ${slopePercent.toFixed(1)} %, at most ${station.slopeMaxPercent} % is wanted`,
        ]
      : []),
    ...(hollowM !== undefined && hollowM >= HOLLOW_TOLD_M
      ? [`it lies ${hollowM.toFixed(2)} m lower than the ground round it, where water stands`]
      : []),
    ...(sun !== undefined && sun.hotShade < SHADE_TOLD
      ? [`it stands in the sun for ${percent(1 - sun.hotShade)} of the hot hours`]
      : []),
    ...(lead?.acrossLawn ? ["no way for the lead goes round the lawn"] : []),
    ...(lead && lead.lengthM > 2 * station.leadHalfM
      ? [`the lead from the outlet is ${m(lead.lengthM)} long`]
      : []),
    ...near("a concave corner", figures.cornerM),
    ...near("a passage", figures.passageM),
    ...near("an island", figures.islandM),
    ...near("water", figures.waterM),
    ...near("a public edge", figures.publicM),
  ];
}

/** What speaks against the place of a station that the user gave; undefined where nothing does. */
export function stationPoor(
  { name, station }: Loop,
  figures: StationFigures,
  profile: Profile,
): Finding[] {
  const faults = faultsOf(figures, profile);
  if (faults.length === 0) return [];
  const best = station.options?.[0];
  const better =
    best && best.figures.score > figures.score
      ? ` The best place found has ${best.figures.score.toFixed(2)}: ${reasonsText(best.figures, profile).join(", ")}.`
      : "";
  return [
    {
      code: "STATION_POOR",
      severity: "warning",
      message: `The station given for loop ${name} stands where it was put, with a score of ${figures.score.toFixed(2)}, but ${faults.join("; ")}.${better}`,
      remedy:
        "Move it to one of the places drawn as station-option, or keep it where you know better.",
      atM: station.atM,
    },
  ];
}
