import type { RingM } from "../../model/geometry.ts";
import { type CurrentPath, currentPathOf } from "../signal/current-path.ts";
import { MU_0 } from "../signal/field.ts";

/** Loops of more pieces than this are thinned before they are summed: every piece meets every other. */
const PIECES_MAX = 1500;

/**
 * Inductance of a wire on the ground, microhenry, good to a few parts in a hundred.
 *
 * Neumann's double sum over straight pieces: the vector potential of each piece in closed form,
 * (µ0 I/4π) ln((r1 + r2 + l)/(r1 + r2 − l)) along the piece, integrated over every other piece by
 * three Gauss points, and the self-inductance of a straight round wire, (µ0 l/2π)(ln(2l/a) − 3/4)
 * (Rosa, Bulletin of the Bureau of Standards 4, 1908, from memory). Soil does not count: its
 * permeability is that of air.
 *
 * @param wire the closed wire, metres
 * @param radiusM radius of the conductor, metres
 */
export function inductanceUh(wire: RingM, radiusM: number): number {
  const path = thinned(currentPathOf(wire));
  const n = path.length / 4;
  let sum = 0;
  for (let i = 0; i < n; i++) {
    const lengthM = pieceM(path, i);
    sum += 2 * lengthM * (Math.log((2 * lengthM) / radiusM) - 0.75);
    for (let j = 0; j < n; j++) if (j !== i) sum += mutual(path, i, j, radiusM);
  }
  return (MU_0 / (4 * Math.PI)) * sum * 1e6;
}

/** Gauss–Legendre points and weights on [0, 1]. */
const GAUSS: readonly (readonly [at: number, weight: number])[] = [
  [0.5 - Math.sqrt(0.15), 5 / 18],
  [0.5, 8 / 18],
  [0.5 + Math.sqrt(0.15), 5 / 18],
];

/** Potential of piece j along piece i, without µ0/4π. */
function mutual(path: CurrentPath, i: number, j: number, radiusM: number): number {
  const [ae, an, be, bn] = [path[4 * i]!, path[4 * i + 1]!, path[4 * i + 2]!, path[4 * i + 3]!];
  const [ce, cn, de, dn] = [path[4 * j]!, path[4 * j + 1]!, path[4 * j + 2]!, path[4 * j + 3]!];
  const sourceM = Math.hypot(de - ce, dn - cn);
  if (sourceM === 0) return 0;
  const along = ((be - ae) * (de - ce) + (bn - an) * (dn - cn)) / sourceM;
  if (along === 0) return 0;
  let sum = 0;
  for (const [at, weight] of GAUSS) {
    const e = ae + at * (be - ae);
    const n = an + at * (bn - an);
    const ends = Math.hypot(e - ce, n - cn) + Math.hypot(e - de, n - dn);
    // Never nearer than on the surface of the conductor.
    const least = Math.hypot(sourceM, 2 * radiusM);
    const reach = Math.max(ends, least);
    sum += weight * Math.log((reach + sourceM) / (reach - sourceM));
  }
  return along * sum;
}

function pieceM(path: CurrentPath, i: number): number {
  return Math.hypot(path[4 * i + 2]! - path[4 * i]!, path[4 * i + 3]! - path[4 * i + 1]!);
}

/** Every k-th corner only, where there are too many pieces. */
function thinned(path: CurrentPath): CurrentPath {
  const n = path.length / 4;
  if (n <= PIECES_MAX) return path;
  const step = Math.ceil(n / PIECES_MAX);
  const corners: number[] = [];
  for (let i = 0; i < n; i += step) corners.push(i);
  const out = new Float64Array(corners.length * 4);
  corners.forEach((from, k) => {
    const to = corners[(k + 1) % corners.length]!;
    out.set([path[4 * from]!, path[4 * from + 1]!, path[4 * to]!, path[4 * to + 1]!], 4 * k);
  });
  return out;
}
