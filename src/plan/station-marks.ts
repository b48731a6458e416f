/** From a place in figures to its marks: 0 (bad) to 1 (as good as is looked for), reason by reason. */
import { type Profile, STATION_REASONS, type StationReason } from "../model/profile.ts";
import type { StationFigures } from "../model/station.ts";

/** Marks of what is known; reasons of which nothing is known are left out. */
export type Marks = { readonly [R in StationReason]?: number | undefined };

/** Twice what the profile wants has full marks. */
export const FULL_AT = 2;
/** A place so much lower than the ground round it is a hollow without marks, metres. */
const HOLLOW_M = 0.2;
/** A lead over the lawn has so much of the marks of its length. */
const ACROSS_SHARE = 0.5;
/** Where the ground is known, but not at this place. */
const UNKNOWN_MARK = 0.5;

/** @param heights whether heights are given at all */
export function marksOf(
  one: Omit<StationFigures, "score">,
  heights: boolean,
  { station }: Profile,
): Marks {
  const away = (distanceM: number | undefined) =>
    distanceM === undefined ? 1 : Math.min(1, distanceM / station.awayM);
  return {
    straight: share(one.straightM, FULL_AT * station.straightM),
    front: share(one.clearAheadM, FULL_AT * station.clearAheadM),
    level: heights ? levelMark(one, station.slopeMaxPercent) : undefined,
    shade: one.sun?.hotShade,
    lead: one.lead && leadMark(one.lead.lengthM, one.lead.acrossLawn, station.leadHalfM),
    corner: away(one.cornerM),
    passage: away(one.passageM),
    island: away(one.islandM),
    water: away(one.waterM),
    public: away(one.publicM),
  };
}

export function leadMark(lengthM: number, acrossLawn: boolean, halfM: number): number {
  return (acrossLawn ? ACROSS_SHARE : 1) / (1 + lengthM / halfM);
}

function levelMark(
  { slopePercent, hollowM = 0 }: Omit<StationFigures, "score">,
  mostPercent: number,
): number {
  if (slopePercent === undefined) return UNKNOWN_MARK;
  return Math.max(0, 1 - slopePercent / (FULL_AT * mostPercent) - hollowM / HOLLOW_M);
}

function share(is: number, wanted: number): number {
  return wanted > 0 ? Math.min(1, is / wanted) : 1;
}

/** Weighted mean of the marks that are known, 0 to 1. */
export function scoreOf(marks: Marks, { stationWeights }: Profile): number {
  let [sum, weights] = [0, 0];
  for (const reason of STATION_REASONS) {
    const mark = marks[reason];
    if (mark === undefined) continue;
    sum += stationWeights[reason] * mark;
    weights += stationWeights[reason];
  }
  return weights > 0 ? sum / weights : 0;
}

/**
 * By what places are ranked. What the profile asks of straight wire and clear lawn comes before all
 * else, for without it no machine docks; then ground that is level enough; then the score.
 */
export function rankOf(
  { straightM, clearAheadM, slopePercent }: Omit<StationFigures, "score">,
  score: number,
  { station }: Profile,
): number {
  const fit = share(straightM, station.straightM) * share(clearAheadM, station.clearAheadM);
  const level = slopePercent === undefined || slopePercent <= station.slopeMaxPercent;
  return (fit === 1 ? 10 : 0) + 3 * fit + (level ? 1 : 0) + score;
}
