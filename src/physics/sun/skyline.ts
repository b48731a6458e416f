/**
 * The skyline of a place: in which directions and up to which height the sun is hidden, by what
 * stands round it and by the ground. Heights are tangents of angles over the level horizon.
 */
import type { PointM } from "../../model/geometry.ts";
import type { HeightLattice } from "../../model/terrain.ts";
import type { Caster, Crown, Upright } from "./casters.ts";

/** Directions of a skyline. */
export const DIRECTIONS = 360;
/** Nearer things are taken to be so far, metres: at a wall itself the sun is hidden or it is not. */
const NEAREST_M = 1e-6;
/** What hides less than this is left out: the sun is that high within some ten minutes of rising. */
const LEAST_RISE = 0.01;

/** What hides the sun in one direction: everything up to `top`, and what lies between pairs of `bands`. */
export interface Hidden {
  top: number;
  /** from, to, from, to, … */
  readonly bands: number[];
}

export function isHidden({ top, bands }: Hidden, rise: number): boolean {
  if (rise < top) return true;
  for (let i = 0; i < bands.length; i += 2) {
    if (rise > bands[i]! && rise < bands[i + 1]!) return true;
  }
  return false;
}

/** Heights of the ground with what the skyline needs of them. */
export interface SkyGround {
  readonly lattice: HeightLattice;
  readonly heightAt: (eastM: number, northM: number) => number;
  readonly highestM: number;
}

/** What hides the sun in a single direction, exactly there. */
export function hiddenTowards(
  at: PointM,
  casters: readonly Caster[],
  azimuthDeg: number,
  ground?: SkyGround,
): Hidden {
  const hidden: Hidden = { top: 0, bands: [] };
  const levelM = ground?.heightAt(...at) ?? Number.NaN;
  const angle = (azimuthDeg * Math.PI) / 180;
  const way: PointM = [Math.sin(angle), Math.cos(angle)];
  for (const caster of casters) {
    const baseM = placeOver(caster, levelM);
    if (caster.kind === "crown") behindCrown(hidden, at, way, caster, baseM);
    else
      for (let i = 0; i + 3 < caster.line.length; i += 2)
        behindEdge(hidden, at, way, caster, i, baseM);
  }
  if (ground) behindGround(hidden, at, way, ground, levelM);
  return hidden;
}

/**
 * The whole skyline, in steps of a degree.
 *
 * @param wanted directions that the sun comes to; others are left open
 */
export function skylineOf(
  at: PointM,
  casters: readonly Caster[],
  wanted: Uint8Array,
  ground?: SkyGround,
): Hidden[] {
  const sky = Array.from({ length: DIRECTIONS }, (): Hidden => ({ top: 0, bands: [] }));
  const levelM = ground?.heightAt(...at) ?? Number.NaN;
  for (const caster of casters) {
    const baseM = placeOver(caster, levelM);
    if (caster.kind === "crown") {
      const [de, dn] = [caster.middle[0] - at[0], caster.middle[1] - at[1]];
      const farM = Math.hypot(de, dn);
      if (caster.topM - baseM < LEAST_RISE * (farM - caster.radiusM)) continue;
      const half = farM <= caster.radiusM ? Math.PI : Math.asin(caster.radiusM / farM);
      const middle = Math.atan2(de, dn);
      eachDirection(middle - half, middle + half, wanted, (k) => {
        behindCrown(sky[k]!, at, WAYS[k]!, caster, baseM);
      });
      continue;
    }
    const { line } = caster;
    for (let i = 0; i + 3 < line.length; i += 2) {
      const first = Math.atan2(line[i]! - at[0], line[i + 1]! - at[1]);
      let turn = Math.atan2(line[i + 2]! - at[0], line[i + 3]! - at[1]) - first;
      if (turn > Math.PI) turn -= 2 * Math.PI;
      if (turn < -Math.PI) turn += 2 * Math.PI;
      const [from, to] = turn < 0 ? [first + turn, first] : [first, first + turn];
      eachDirection(from, to, wanted, (k) => {
        behindEdge(sky[k]!, at, WAYS[k]!, caster, i, baseM);
      });
    }
  }
  if (ground && !Number.isNaN(levelM)) {
    sky.forEach((hidden, k) => {
      if (wanted[k]) behindGround(hidden, at, WAYS[k]!, ground, levelM);
    });
  }
  return sky;
}

/** How high a place lies over the ground under a caster, metres; 0 where that is not known. */
function placeOver({ groundM }: Caster, levelM: number): number {
  return groundM === undefined || Number.isNaN(levelM) ? 0 : levelM - groundM;
}

const STEP = (2 * Math.PI) / DIRECTIONS;
/** Directions in the middle of each step. */
const WAYS: readonly PointM[] = Array.from({ length: DIRECTIONS }, (_, k): PointM => {
  const angle = (k + 0.5) * STEP;
  return [Math.sin(angle), Math.cos(angle)];
});

/** Number of the direction of an azimuth. */
export function directionOf(azimuthDeg: number): number {
  return Math.floor((((azimuthDeg % 360) + 360) % 360) * (DIRECTIONS / 360)) % DIRECTIONS;
}

/** Directions whose middle lies between two angles, from ≤ to, clockwise from north. */
function eachDirection(
  from: number,
  to: number,
  wanted: Uint8Array,
  visit: (direction: number) => void,
): void {
  const last = Math.floor(to / STEP - 0.5);
  for (let k = Math.ceil(from / STEP - 0.5); k <= last; k++) {
    const direction = ((k % DIRECTIONS) + DIRECTIONS) % DIRECTIONS;
    if (wanted[direction]) visit(direction);
  }
}

/** Hides what lies behind one edge of something upright: the nearer, the higher. */
function behindEdge(
  hidden: Hidden,
  [e, n]: PointM,
  [we, wn]: PointM,
  { line, topM }: Upright,
  i: number,
  baseM: number,
): void {
  const [ae, an] = [line[i]! - e, line[i + 1]! - n];
  const [be, bn] = [line[i + 2]! - e, line[i + 3]! - n];
  // Offsets of the two ends to the right of the way, and along it.
  const [ra, rb] = [ae * wn - an * we, be * wn - bn * we];
  if (ra > 0 === rb > 0 || ra === rb) return;
  const share = ra / (ra - rb);
  const farM = (1 - share) * (ae * we + an * wn) + share * (be * we + bn * wn);
  if (farM < 0) return;
  const rise = (topM - baseM) / Math.max(farM, NEAREST_M);
  if (rise > hidden.top) hidden.top = rise;
}

/** Hides what lies behind a crown: from its bottom at the far side to its top at the near one. */
function behindCrown(
  hidden: Hidden,
  [e, n]: PointM,
  [we, wn]: PointM,
  { middle, radiusM, bottomM, topM }: Crown,
  baseM: number,
): void {
  const [de, dn] = [middle[0] - e, middle[1] - n];
  const along = de * we + dn * wn;
  const across = de * wn - dn * we;
  const half2 = radiusM * radiusM - across * across;
  if (half2 <= 0) return;
  const half = Math.sqrt(half2);
  const farM = along + half;
  if (farM <= 0) return;
  const nearM = Math.max(along - half, NEAREST_M);
  // Seen from above its bottom (a place up the slope) it hides from below on.
  const [from, to] = [(bottomM - baseM) / farM, (topM - baseM) / nearM];
  if (to > 0) hidden.bands.push(from, to);
}

/** Walks over the ground until nothing on it can hide more. */
function behindGround(
  hidden: Hidden,
  [e, n]: PointM,
  [we, wn]: PointM,
  { lattice, heightAt, highestM }: SkyGround,
  levelM: number,
): void {
  if (Number.isNaN(levelM)) return;
  let top = Math.max(hidden.top, LEAST_RISE);
  const overM = highestM - levelM;
  // Steps grow with the distance: what is far hides little, however narrow.
  for (let farM = lattice.stepM; overM > top * farM; farM += Math.max(lattice.stepM, farM / 50)) {
    const heightM = heightAt(e + farM * we, n + farM * wn);
    // Off the known ground: nothing more is known.
    if (Number.isNaN(heightM)) break;
    const rise = (heightM - levelM) / farM;
    if (rise > top) top = rise;
  }
  if (top > LEAST_RISE && top > hidden.top) hidden.top = top;
}
