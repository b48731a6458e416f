/**
 * Where the sun stands, after the Solar Position Algorithm: I. Reda and A. Andreas, Solar Position
 * Algorithm for Solar Radiation Applications, NREL/TP-560-34302 (revised 2008). Own code from the
 * published steps; section numbers are the report's. Uncertainty stated there: 0.0003 degrees.
 */
import { LATITUDE, LONGITUDE, NUTATION, RADIUS, type Term } from "./series.data.ts";

const RAD = Math.PI / 180;

/** Where the observer is. */
export interface Observer {
  readonly latDeg: number;
  readonly lonDeg: number;
  /** Height above the ellipsoid, metres; it matters by less than 0.003 degrees. */
  readonly elevationM?: number;
}

/** What the air does to the light. */
export interface Air {
  readonly pressureMbar: number;
  readonly temperatureC: number;
}

/** Yearly mean at sea level, as good as any where nothing is measured. */
export const MEAN_AIR: Air = { pressureMbar: 1013, temperatureC: 15 };

export interface SolarPosition {
  /** Height above the level horizon, refraction included, degrees; negative below. */
  readonly elevationDeg: number;
  /** Clockwise from true north, degrees, 0 to 360. */
  readonly azimuthDeg: number;
}

/** The sun itself, the same for all observers. */
export interface Sun {
  /** Apparent right ascension, degrees. */
  readonly rightAscensionDeg: number;
  /** Apparent declination, degrees. */
  readonly declinationDeg: number;
  /** Distance, astronomical units. */
  readonly radiusAu: number;
  /** Apparent sidereal time at Greenwich, degrees. */
  readonly siderealDeg: number;
}

/**
 * Difference between terrestrial time and universal time, seconds: polynomial for 2005 to 2050,
 * F. Espenak and J. Meeus, Five Millennium Canon of Solar Eclipses (NASA/TP-2006-214141). A second
 * of it turns the sun by 0.00001 degrees.
 */
export function deltaTS(yearDecimal: number): number {
  const t = yearDecimal - 2000;
  return 62.92 + 0.32217 * t + 0.005589 * t * t;
}

/** Julian day of an instant in milliseconds since 1970-01-01T00:00Z. */
export function julianDay(timeMs: number): number {
  return timeMs / 86_400_000 + 2_440_587.5;
}

/** The sun's place at an instant (3.2 to 3.10). */
export function sunAt(timeMs: number, deltaT = deltaTS(1970 + timeMs / 31_556_952_000)): Sun {
  const jd = julianDay(timeMs);
  const jc = (jd - 2_451_545) / 36_525;
  const jce = (jd + deltaT / 86_400 - 2_451_545) / 36_525;
  const jme = jce / 10;
  const radiusAu = series(RADIUS, jme);
  const longitude = series(LONGITUDE, jme) / RAD + 180;
  const latitude = -series(LATITUDE, jme) / RAD;
  const { longitudeDeg: dPsi, obliquityDeg: dEps } = nutation(jce);
  const obliquity = (meanObliquity(jme) + dEps) * RAD;
  const lambda = (longitude + dPsi - 20.4898 / (3600 * radiusAu)) * RAD;
  const beta = latitude * RAD;
  const rightAscension = Math.atan2(
    Math.sin(lambda) * Math.cos(obliquity) - Math.tan(beta) * Math.sin(obliquity),
    Math.cos(lambda),
  );
  const declination = Math.asin(
    Math.sin(beta) * Math.cos(obliquity) + Math.cos(beta) * Math.sin(obliquity) * Math.sin(lambda),
  );
  const mean =
    280.46061837 + 360.98564736629 * (jd - 2_451_545) + jc * jc * (0.000387933 - jc / 38_710_000);
  return {
    rightAscensionDeg: turned(rightAscension / RAD),
    declinationDeg: declination / RAD,
    radiusAu,
    siderealDeg: turned(mean + dPsi * Math.cos(obliquity)),
  };
}

/** What an observer sees of it (3.11 to 3.15); refraction as the report has it. */
export function seenFrom(sun: Sun, place: Observer, air: Air = MEAN_AIR): SolarPosition {
  const phi = place.latDeg * RAD;
  const height = (place.elevationM ?? 0) / 6_378_140;
  const hour = (sun.siderealDeg + place.lonDeg - sun.rightAscensionDeg) * RAD;
  const delta = sun.declinationDeg * RAD;
  const parallax = (8.794 / (3600 * sun.radiusAu)) * RAD;
  const u = Math.atan(0.99664719 * Math.tan(phi));
  const x = Math.cos(u) + height * Math.cos(phi);
  const y = 0.99664719 * Math.sin(u) + height * Math.sin(phi);
  const across = Math.cos(delta) - x * Math.sin(parallax) * Math.cos(hour);
  const shift = Math.atan2(-x * Math.sin(parallax) * Math.sin(hour), across);
  const seenDelta = Math.atan2(
    (Math.sin(delta) - y * Math.sin(parallax)) * Math.cos(shift),
    across,
  );
  const seenHour = hour - shift;
  const elevation =
    Math.asin(
      Math.sin(phi) * Math.sin(seenDelta) +
        Math.cos(phi) * Math.cos(seenDelta) * Math.cos(seenHour),
    ) / RAD;
  const azimuth = Math.atan2(
    Math.sin(seenHour),
    Math.cos(seenHour) * Math.sin(phi) - Math.tan(seenDelta) * Math.cos(phi),
  );
  return {
    elevationDeg: elevation + refractionDeg(elevation, air),
    azimuthDeg: turned(azimuth / RAD + 180),
  };
}

/** Semi-diameter 0.26667 and refraction 0.5667 degrees: where the upper limb meets the horizon. */
const RISE_DEG = -(0.26667 + 0.5667);

function refractionDeg(elevationDeg: number, { pressureMbar, temperatureC }: Air): number {
  if (elevationDeg < RISE_DEG) return 0;
  return (
    ((pressureMbar / 1010) * (283 / (273 + temperatureC)) * 1.02) /
    (60 * Math.tan((elevationDeg + 10.3 / (elevationDeg + 5.11)) * RAD))
  );
}

/** Sunrise, noon and sunset; undefined for rise and set where the sun does neither that day. */
export interface SunTimes {
  readonly riseMs: number | undefined;
  readonly noonMs: number;
  readonly setMs: number | undefined;
}

/**
 * Rise, transit and set of the upper limb over a level horizon, seen from sea level, around the noon
 * that is nearest to an instant. By search on the position itself, to a tenth of a second.
 */
export function sunTimes(nearNoonMs: number, place: Observer): SunTimes {
  const hourAngle = (ms: number) => {
    const sun = sunAt(ms);
    return signed(sun.siderealDeg + place.lonDeg - sun.rightAscensionDeg);
  };
  let noonMs = nearNoonMs;
  for (let i = 0; i < 4; i++) noonMs -= (hourAngle(noonMs) / 360) * 86_400_000;
  // The geometric height of the centre, without refraction and parallax, as the report defines it.
  const above = (ms: number) => {
    const sun = sunAt(ms);
    const hour = (sun.siderealDeg + place.lonDeg - sun.rightAscensionDeg) * RAD;
    const [phi, delta] = [place.latDeg * RAD, sun.declinationDeg * RAD];
    const sine = Math.sin(phi) * Math.sin(delta) + Math.cos(phi) * Math.cos(delta) * Math.cos(hour);
    return Math.asin(sine) / RAD - RISE_DEG;
  };
  const cross = (otherMs: number): number | undefined => {
    if (above(noonMs) <= 0 || above(otherMs) >= 0) return undefined;
    let [up, down] = [noonMs, otherMs];
    while (Math.abs(up - down) > 100) {
      const middle = (up + down) / 2;
      if (above(middle) > 0) up = middle;
      else down = middle;
    }
    return (up + down) / 2;
  };
  const half = 43_200_000;
  return { riseMs: cross(noonMs - half), noonMs, setMs: cross(noonMs + half) };
}

/** Sum of the series for each power of time, radians or astronomical units (eq. 9 and 10). */
function series(list: readonly (readonly Term[])[], jme: number): number {
  let sum = 0;
  for (let power = list.length - 1; power >= 0; power--) {
    let own = 0;
    for (const [amplitude, phase, frequency] of list[power]!) {
      own += amplitude * Math.cos(phase + frequency * jme);
    }
    sum = sum * jme + own;
  }
  return sum / 1e8;
}

/** Nutation in longitude and obliquity (3.4). */
function nutation(jce: number): { longitudeDeg: number; obliquityDeg: number } {
  const poly = (a: number, b: number, c: number, d: number) =>
    (a + jce * (b + jce * (c + jce / d))) * RAD;
  const elongation = poly(297.85036, 445_267.11148, -0.0019142, 189_474);
  const sunAnomaly = poly(357.52772, 35_999.05034, -0.0001603, -300_000);
  const moonAnomaly = poly(134.96298, 477_198.867398, 0.0086972, 56_250);
  const latitude = poly(93.27191, 483_202.017538, -0.0036825, 327_270);
  const node = poly(125.04452, -1934.136261, 0.0020708, 450_000);
  let [longitude, obliquity] = [0, 0];
  for (const [d, m, n, f, o, s0, s1, c0, c1] of NUTATION) {
    const angle = d! * elongation + m! * sunAnomaly + n! * moonAnomaly + f! * latitude + o! * node;
    longitude += (s0! + s1! * jce) * Math.sin(angle);
    obliquity += (c0! + c1! * jce) * Math.cos(angle);
  }
  return { longitudeDeg: longitude / 36e6, obliquityDeg: obliquity / 36e6 };
}

/** Mean obliquity of the ecliptic, degrees (3.5, after J. Laskar). */
function meanObliquity(jme: number): number {
  const u = jme / 10;
  const terms = [2.45, 5.79, 27.87, 7.12, -39.05, -249.67, -51.38, 1999.25, -1.55, -4680.93];
  let sum = 0;
  for (const term of terms) sum = sum * u + term;
  return (sum * u + 84_381.448) / 3600;
}

const turned = (deg: number) => ((deg % 360) + 360) % 360;
const signed = (deg: number) => turned(deg + 180) - 180;
