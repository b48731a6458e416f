/** The sun on a site, before anything is planned. Pure; loaded only where it is asked for. */
import { difference } from "../geometry/overlay.ts";
import { totalAreaM2 } from "../geometry/rings.ts";
import { done, type Finding, failed, type Outcome } from "../model/finding.ts";
import type { Site } from "../model/site.ts";
import type { SunAtPlace } from "../model/station.ts";
import type { SiteSunFigures, SunRules } from "../model/sun.ts";
import {
  type Casters,
  CROWN_FROM_SHARE,
  CROWN_WIDTH_SHARE,
  castersOf,
  USUAL_HEIGHT_M,
} from "../physics/sun/casters.ts";
import { seasonOf } from "../physics/sun/season.ts";
import type { SkyGround } from "../physics/sun/skyline.ts";
import { sunMap } from "../physics/sun/sun-map.ts";
import { SunStudy } from "../physics/sun/sun-study.ts";
import { clockOf, solarClock } from "../physics/sun/zone.ts";
import type { SiteHeights } from "./site-heights.ts";

export interface SiteSun {
  readonly sunAt: (at: readonly [number, number]) => SunAtPlace;
  /** Figures and the map of the lawn; the map is made when this is called. */
  readonly figures: () => SiteSunFigures;
}

const SEASON_NORTH = { from: "04-01", to: "10-31" };
const SEASON_SOUTH = { from: "10-01", to: "04-30" };
/** The hot hours where nobody says, common practice: from an hour before noon to four after. */
const HOT = { from: "11:00", to: "16:00" };

/**
 * The sun through the mowing season at the site's latitude.
 *
 * @returns problem `SUN_ZONE_UNKNOWN` where the zone is not known
 */
export function sunOfSite(
  site: Site,
  rules: SunRules,
  heights: SiteHeights | undefined,
): Outcome<SiteSun> {
  const [lonDeg, latDeg] = site.grid.origin;
  const clock = rules.zone === undefined ? solarClock(lonDeg) : clockOf(rules.zone);
  if (!clock) return failed(unknownZone(rules.zone ?? ""));
  const usual = latDeg < 0 ? SEASON_SOUTH : SEASON_NORTH;
  const [from, to] = [rules.from ?? usual.from, rules.to ?? usual.to];
  const [hotFrom, hotTo] = [rules.hotFrom ?? HOT.from, rules.hotTo ?? HOT.to];
  const season = seasonOf({
    latDeg,
    lonDeg,
    from,
    to,
    clock,
    hotFromMin: minutesOf(hotFrom),
    hotToMin: minutesOf(hotTo),
  });
  const casters = castersOf(site, heights?.heightAt);
  const study = new SunStudy(season, casters.list, heights && skyGround(heights));
  const figures = (): SiteSunFigures => {
    const things = site.things.filter(({ contact }) => contact !== "flush");
    const open = difference(
      site.lawns.map(({ area }) => area),
      things.flatMap(({ areas }) => areas),
    );
    const map = sunMap(open, totalAreaM2(open), (at) => study.at(at).hoursADay);
    const { days, dayLengthH } = season;
    return { zone: rules.zone, from, to, hotFrom, hotTo, days, dayLengthH, map };
  };
  const assumed = assumptions(rules, casters, { from, to, hotFrom, hotTo }, heights);
  return done({ sunAt: (at) => study.at(at), figures }, [assumed]);
}

function minutesOf(clock: string): number {
  const [hours, minutes] = clock.split(":").map(Number);
  return 60 * hours! + minutes!;
}

function skyGround({ lattice, heightAt }: SiteHeights): SkyGround {
  let highestM = -Infinity;
  for (const heightM of lattice.heightsM) if (heightM > highestM) highestM = heightM;
  return { lattice, heightAt, highestM };
}

function unknownZone(zone: string) {
  return {
    code: "SUN_ZONE_UNKNOWN",
    kind: "usage" as const,
    message: `The time zone ${JSON.stringify(zone)} is not known.`,
    remedy:
      "Give a name of the IANA time zone database (Area/City), UTC, or a fixed offset like +02:00.",
  };
}

function assumptions(
  rules: SunRules,
  { list, assumed }: Casters,
  used: { from: string; to: string; hotFrom: string; hotTo: string },
  heights: SiteHeights | undefined,
): Finding {
  const heightsAssumed = [...assumed].map(
    ([sort, count]) =>
      `${count} of sort ${sort} without a height count as ${USUAL_HEIGHT_M[sort as keyof typeof USUAL_HEIGHT_M]} m high`,
  );
  const parts = [
    ...(rules.from && rules.to ? [] : [`the mowing season goes from ${used.from} to ${used.to}`]),
    ...(rules.hotFrom && rules.hotTo
      ? []
      : [`the hot hours go from ${used.hotFrom} to ${used.hotTo} o'clock`]),
    ...(rules.zone === undefined
      ? ["clock times are by the sun: at 12:00 it is about highest"]
      : []),
    ...heightsAssumed,
    ...(list.some(({ kind }) => kind === "crown")
      ? [
          `crowns are in leaf all season, begin at ${100 * CROWN_FROM_SHARE} % of the tree's height and are, where not stated, ${100 * CROWN_WIDTH_SHARE} % as wide as it is high`,
        ]
      : []),
    ...(heights ? [] : ["the ground is level"]),
  ];
  return {
    code: "SUN_ASSUMED",
    severity: "info",
    message: `For the sun ${parts.length > 0 ? `it is assumed that ${parts.join("; ")}` : "nothing is assumed"}. The sky is clear; ${list.length} things cast shade.`,
    remedy:
      "Give height_m and crown_m to buildings, walls, hedges and trees, and zone, season and hot hours under sun in the site file.",
  };
}
