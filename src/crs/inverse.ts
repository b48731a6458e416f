import type { XY } from "./build-crs.ts";
import type { Transform } from "./patch.ts";

/** Steps of Newton's method; smooth transformations take three or four. */
const STEPS_MAX = 20;

/**
 * The inverse of a smooth transformation of the plane, by Newton's method with differences.
 *
 * It needs the way there alone, so that it holds for every system with whatever datum shift. Gives
 * NaN where it does not settle. Some twelve calls of the transformation a point.
 *
 * @param start a place (in units of the argument) near which the inverse is wanted
 * @param differ a small step of the argument for the differences
 * @param tolerance how near the result has to come, in units of the transformation's result
 */
export function inverseOf(
  forward: Transform,
  start: XY,
  differ: number,
  tolerance: number,
): Transform {
  return (u, v) => {
    let [x, y] = start;
    for (let step = 0; step < STEPS_MAX; step++) {
      const [a, b] = forward(x, y);
      const [du, dv] = [u - a, v - b];
      if (Math.hypot(du, dv) <= tolerance) return [x, y];
      const [ax, bx] = forward(x + differ, y);
      const [ay, by] = forward(x, y + differ);
      const [uX, vX, uY, vY] = [ax - a, bx - b, ay - a, by - b];
      const det = uX * vY - uY * vX;
      x += ((du * vY - dv * uY) / det) * differ;
      y += ((dv * uX - du * vX) / det) * differ;
      if (!Number.isFinite(x) || !Number.isFinite(y)) break;
    }
    return [Number.NaN, Number.NaN];
  };
}
