/** Where the sun stands through a mowing season, seen from one place. */
import { seenFrom, sunAt, sunTimes } from "./solar-position.ts";
import type { ClockOffset } from "./zone.ts";

/** One moment of the season, standing for a stretch of time. */
export interface SunSample {
  /** Clockwise from north, degrees. */
  readonly azimuthDeg: number;
  /** Tangent of its height over the level horizon; above 0. */
  readonly rise: number;
  /** What it stands for, hours a day on average over the season. */
  readonly hours: number;
  /** Whether the clock is within the hot hours. */
  readonly isHot: boolean;
}

export interface Season {
  readonly samples: readonly SunSample[];
  readonly days: number;
  /** Mean time from sunrise to sunset on level open ground, hours. */
  readonly dayLengthH: number;
}

export interface SeasonInput {
  readonly latDeg: number;
  readonly lonDeg: number;
  /** First and last day, `MM-DD`. */
  readonly from: string;
  readonly to: string;
  readonly clock: ClockOffset;
  /** Minutes after midnight on that clock. */
  readonly hotFromMin: number;
  readonly hotToMin: number;
}

/** The sun of a year hardly differs from that of another: its place by less than 0.3 degrees. */
const YEAR = 2030;
const DAY_MS = 86_400_000;
/** One day stands for about so many. */
const DAYS_APART = 15;
/** Moments of a day from sunrise to sunset. */
const MOMENTS = 96;
/** The sun on the horizon, refraction and its own width included, counts as so high, degrees. */
const LEAST_DEG = 0.01;

/**
 * Samples a season: every day of some two weeks, each cut from sunrise to sunset into even moments,
 * the sun taken in the middle of each; so that the hours on level open ground are the day's length.
 */
export function seasonOf(input: SeasonInput): Season {
  const { latDeg, lonDeg, clock } = input;
  const place = { latDeg, lonDeg };
  const firstMs = dayMs(input.from, YEAR);
  const sameYearMs = dayMs(input.to, YEAR);
  const lastMs = sameYearMs >= firstMs ? sameYearMs : dayMs(input.to, YEAR + 1);
  const lengthDays = Math.round((lastMs - firstMs) / DAY_MS) + 1;
  const days = Math.max(1, Math.round(lengthDays / DAYS_APART));
  const samples: SunSample[] = [];
  let wholeH = 0;
  for (let day = 0; day < days; day++) {
    const date = Math.floor(((day + 0.5) * lengthDays) / days);
    const nearNoonMs = firstMs + date * DAY_MS + DAY_MS / 2 - (lonDeg / 360) * DAY_MS;
    const { noonMs, riseMs, setMs } = sunTimes(nearNoonMs, place);
    const isUp = riseMs !== undefined || seenFrom(sunAt(noonMs), place).elevationDeg > 0;
    if (!isUp) continue;
    const fromMs = riseMs ?? noonMs - DAY_MS / 2;
    const toMs = setMs ?? noonMs + DAY_MS / 2;
    const hours = (toMs - fromMs) / 3_600_000 / MOMENTS / days;
    wholeH += hours * MOMENTS;
    for (let i = 0; i < MOMENTS; i++) {
      const ms = fromMs + ((i + 0.5) / MOMENTS) * (toMs - fromMs);
      const { azimuthDeg, elevationDeg } = seenFrom(sunAt(ms), place);
      const minutes = (((ms / 60_000 + clock(ms)) % 1440) + 1440) % 1440;
      samples.push({
        azimuthDeg,
        rise: Math.tan((Math.max(LEAST_DEG, elevationDeg) * Math.PI) / 180),
        hours,
        isHot: minutes >= input.hotFromMin && minutes < input.hotToMin,
      });
    }
  }
  return { samples, days, dayLengthH: wholeH };
}

/** Midnight UTC of a `MM-DD`. */
function dayMs(monthDay: string, year: number): number {
  const [month, day] = monthDay.split("-").map(Number);
  return Date.UTC(year, month! - 1, day);
}
