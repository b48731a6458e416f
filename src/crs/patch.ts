import type { XY } from "./build-crs.ts";

/** A transformation of the plane, point by point. */
export type Transform = (x: number, y: number) => XY;

/**
 * Two polynomials of degree 3 over a square, in place of a transformation. Coefficients of
 * 1, u, u², u³, v, uv, u²v, v², uv², v³, where u and v run from -1 to 1 over the square.
 */
export interface Patch {
  readonly midX: number;
  readonly midY: number;
  readonly perUnit: number;
  readonly a: Float64Array;
  readonly b: Float64Array;
}

/** How many times `fitPatch` calls the transformation. */
export const FIT_CALLS = 41;

/** Zeros of the Chebyshev polynomial of degree 4. */
const NODES = [1, 3, 5, 7].map((k) => Math.cos((k * Math.PI) / 8));
/** Where a patch is tested: its corners, edges, middle and between. */
const CHECKS = [-1, -0.5, 0, 0.5, 1];

/** Chebyshev polynomials 0 to 3. */
function chebyshev(u: number): readonly [number, number, number, number] {
  return [1, u, 2 * u * u - 1, (4 * u * u - 3) * u];
}

/** The polynomial through values at the nodes, terms above degree 3 left out (discrete orthogonality). */
function fitted(values: readonly number[]): Float64Array {
  const c = (i: number, j: number): number => {
    let sum = 0;
    for (const [k, u] of NODES.entries()) {
      for (const [l, v] of NODES.entries()) {
        sum += values[k * 4 + l]! * chebyshev(u)[i]! * chebyshev(v)[j]!;
      }
    }
    return (sum * (i === 0 ? 1 : 2) * (j === 0 ? 1 : 2)) / 16;
  };
  // T2 = 2u² - 1 and T3 = 4u³ - 3u, sorted by powers.
  return Float64Array.of(
    c(0, 0) - c(2, 0) - c(0, 2),
    c(1, 0) - 3 * c(3, 0) - c(1, 2),
    2 * c(2, 0),
    4 * c(3, 0),
    c(0, 1) - 3 * c(0, 3) - c(2, 1),
    c(1, 1),
    2 * c(2, 1),
    2 * c(0, 2),
    2 * c(1, 2),
    4 * c(0, 3),
  );
}

/** One of a patch's polynomials. */
export function valueAt(c: Float64Array, u: number, v: number): number {
  return (
    c[0]! +
    u * (c[1]! + u * (c[2]! + u * c[3]!)) +
    v * (c[4]! + u * (c[5]! + u * c[6]!) + v * (c[7]! + u * c[8]! + v * c[9]!))
  );
}

/**
 * A patch for the square of side `side` round a middle; undefined where at one of 25 places it is
 * further than `tolerance` from the transformation, or the transformation has no value.
 */
export function fitPatch(
  exact: Transform,
  [midX, midY]: XY,
  side: number,
  tolerance: number,
): Patch | undefined {
  const half = side / 2;
  const values = NODES.flatMap((u) => NODES.map((v) => exact(midX + u * half, midY + v * half)));
  const a = fitted(values.map((value) => value[0]));
  const b = fitted(values.map((value) => value[1]));
  for (const u of CHECKS) {
    for (const v of CHECKS) {
      const [x, y] = exact(midX + u * half, midY + v * half);
      const off = Math.hypot(valueAt(a, u, v) - x, valueAt(b, u, v) - y);
      // Also where it is not a number.
      if (!(off <= tolerance)) return undefined;
    }
  }
  return { midX, midY, perUnit: 1 / half, a, b };
}
