/**
 * How far a peg set out by tape may stand from its place.
 *
 * A length taped on grass is off by no more than 5 mm either way: common practice for a steel or
 * fibreglass tape held level and tight, up to its 30 m; longer ones sag. Taken as a rectangular
 * distribution its standard uncertainty is 5 mm / √3 (JCGM 100:2008, GUM, 4.3.7).
 *
 * Two tapes that meet at an angle γ give a place whose covariance has the eigenvalues
 * u² / (1 ± |cos γ|): best at a right angle, useless along one line. What is stated is the radius of
 * the circle that holds the peg with 95 % probability, of the normal distribution of that covariance.
 */

/** A taped length is off by at most this, either way, metres. */
export const TAPE_TOLERANCE_M = 0.005;
/** Standard uncertainty of a taped length, metres. */
export const TAPE_U_M = TAPE_TOLERANCE_M / Math.sqrt(3);
/** What a peg should keep: 1 cm. */
export const GOOD_ERROR_M = 0.01;

const SHARE = 0.95;
const STEPS = 200;

/**
 * Radius that holds a normal place with 95 % probability, from its two standard deviations. Between
 * hundredths of their ratio it is interpolated, within 0.00001 of the larger one.
 */
export function radius95(majorM: number, minorM: number): number {
  if (!(majorM > 0) || !Number.isFinite(majorM)) return majorM;
  const at = Math.min(1, Math.max(0, minorM / majorM)) * RATIOS;
  const k = Math.min(RATIOS - 1, Math.floor(at));
  const [low, high] = [radiusAt(k), radiusAt(k + 1)];
  return majorM * (low + (at - k) * (high - low));
}

const RATIOS = 100;
const radii: number[] = [];

/** Radius at a hundredth of the ratio, reckoned when it is first asked for. */
function radiusAt(k: number): number {
  radii[k] ??= integratedRadius(k / RATIOS);
  return radii[k]!;
}

/** The radius by halving, where the larger standard deviation is 1. */
function integratedRadius(minor: number): number {
  if (minor <= 0) return NORMAL_95;
  let low = 0;
  let high = CIRCLE_95;
  for (let i = 0; i < 24; i++) {
    const middle = (low + high) / 2;
    if (shareWithin(middle, 1, minor) < SHARE) low = middle;
    else high = middle;
  }
  return high;
}

/** Half width of the middle 95 % of a normal distribution, and of the circle of a round one. */
const NORMAL_95 = 1.959964;
const CIRCLE_95 = Math.sqrt(-2 * Math.log(1 - SHARE));

const directions = Array.from({ length: STEPS }, (_, k) => {
  const angle = ((k + 0.5) / STEPS) * (Math.PI / 2);
  return [Math.cos(angle), Math.sin(angle)] as const;
});

/** Share of an elliptic normal distribution within a circle: the angle integrated by midpoints. */
function shareWithin(radiusM: number, majorM: number, minorM: number): number {
  let sum = 0;
  for (let k = 0; k < STEPS; k++) {
    const [cosine, sine] = directions[k]!;
    const q = (cosine / majorM) ** 2 + (sine / minorM) ** 2;
    sum += (1 - Math.exp((-radiusM * radiusM * q) / 2)) / q;
  }
  return sum / STEPS / (majorM * minorM);
}

/** Cosine of the angle at which two tapes from `a` and `b` meet at a place; 1 where there is none. */
export function tapeCosine(
  at: readonly [number, number],
  a: readonly [number, number],
  b: readonly [number, number],
): number {
  const [ae, an] = [at[0] - a[0], at[1] - a[1]];
  const [be, bn] = [at[0] - b[0], at[1] - b[1]];
  const lengths = Math.hypot(ae, an) * Math.hypot(be, bn);
  return lengths < 1e-12 ? 1 : Math.min(1, Math.abs(ae * be + an * bn) / lengths);
}

/** Largest standard deviation of a place by two tapes, metres: what a pair is chosen by. */
export function majorOf(cosine: number): number {
  return cosine >= 1 ? Infinity : TAPE_U_M / Math.sqrt(1 - cosine);
}

/** 95 % radius of a place by two tapes that meet with this cosine, metres. */
export function tieErrorM(cosine: number): number {
  return cosine >= 1 ? Infinity : radius95(majorOf(cosine), TAPE_U_M / Math.sqrt(1 + cosine));
}

/** How a place is taped: the direction of the tape, and its variance, m². */
export interface SeenTape {
  readonly unit: readonly [number, number];
  readonly variance: number;
}

/**
 * Standard deviations of a place by two tapes or more, adjusted by least squares: the eigenvalues of the
 * inverse of the normal matrix, the sum of the tapes' u uᵀ / variance.
 */
export function deviationsOf(tapes: readonly SeenTape[]): { majorM: number; minorM: number } {
  let [ee, en, nn] = [0, 0, 0];
  for (const { unit, variance } of tapes) {
    ee += (unit[0] * unit[0]) / variance;
    en += (unit[0] * unit[1]) / variance;
    nn += (unit[1] * unit[1]) / variance;
  }
  const half = (ee + nn) / 2;
  const apart = Math.hypot((ee - nn) / 2, en);
  const least = half - apart;
  // Rounding leaves a little of what is nothing: tapes along one line.
  if (least <= 1e-9 * half) return { majorM: Infinity, minorM: 0 };
  return { majorM: 1 / Math.sqrt(least), minorM: 1 / Math.sqrt(half + apart) };
}

/** The larger of the two: what tapes are chosen by. */
export const majorOfTapes = (tapes: readonly SeenTape[]): number => deviationsOf(tapes).majorM;

/** 95 % radius of a place by two tapes or more, metres. */
export function errorOfTapes(tapes: readonly SeenTape[]): number {
  const { majorM, minorM } = deviationsOf(tapes);
  return Number.isFinite(majorM) ? radius95(majorM, minorM) : Infinity;
}
