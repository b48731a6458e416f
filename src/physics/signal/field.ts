import type { CurrentPath } from "./current-path.ts";

/** Magnetic constant, N/A² (CODATA 2022). */
export const MU_0 = 1.25663706127e-6;

/** µ0/4π in microtesla metres per ampere. */
const SCALE_UT = (MU_0 / (4 * Math.PI)) * 1e6;

/**
 * Upward part of the magnetic field of straight pieces of conductor, microtesla per ampere.
 *
 * Biot and Savart for finite segments in closed form. With a and b the vectors from the point to
 * the two ends, a piece gives (a × b)(|a| + |b|) / (|a||b|(|a||b| + a·b)) µ0/4π: the textbook's
 * (sin θ2 − sin θ1)/s without the angles, stable beside and far from the piece (Griffiths,
 * Introduction to Electrodynamics, example 5.5, from memory).
 *
 * In the plane of a closed wire the sign is that of the side: a ray from a point inside crosses the
 * wire outwards, inwards, outwards …, each time further away and so weaker, and the first wins.
 *
 * @param heightM height of the point over the wire, metres
 */
export function upwardFieldUtPerA(
  path: CurrentPath,
  eastM: number,
  northM: number,
  heightM = 0,
): number {
  const h2 = heightM * heightM;
  let sum = 0;
  for (let i = 0; i < path.length; i += 4) {
    const ae = path[i]! - eastM;
    const an = path[i + 1]! - northM;
    const be = path[i + 2]! - eastM;
    const bn = path[i + 3]! - northM;
    const cross = ae * bn - an * be;
    const a = Math.sqrt(ae * ae + an * an + h2);
    const b = Math.sqrt(be * be + bn * bn + h2);
    // |a||b| + a·b loses its digits where the point lies beside the piece: |a × b|² / (|a||b| − a·b)
    // is the same number and keeps them there.
    const dot = ae * be + an * bn + h2;
    const ab = a * b;
    const crossed = cross * cross + h2 * ((ae - be) * (ae - be) + (an - bn) * (an - bn));
    const denominator = dot > 0 ? ab + dot : crossed / (ab - dot);
    if (denominator > 0) sum += (cross * (a + b)) / (ab * denominator);
  }
  return SCALE_UT * sum;
}
