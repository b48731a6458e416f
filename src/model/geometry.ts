/**
 * Geometry in the site grid: metres, east then north, on a flat plane.
 *
 * Rings and lines are flat `Float64Array`s (`e0, n0, e1, n1, …`): one allocation a ring, no objects
 * a vertex, so that an estate of a million vertices fits in memory and moves cheaply to a worker.
 */

/** One point of the site grid: [east, north] in metres. */
export type PointM = readonly [eastM: number, northM: number];

/** A position in degrees, WGS 84: [longitude, latitude] (RFC 7946 order). */
export type LonLat = readonly [lonDeg: number, latDeg: number];

/** A closed ring, `e0, n0, e1, n1, …` in metres. The first vertex is not repeated at the end. */
export type RingM = Float64Array;

/** An open line, `e0, n0, e1, n1, …` in metres. */
export type LineM = Float64Array;

/**
 * A polygon in metres: one shell, wound anticlockwise, and its holes, wound clockwise.
 * Valid in the sense of OGC Simple Features unless a function says otherwise.
 */
export interface AreaM {
  readonly shell: RingM;
  readonly holes: readonly RingM[];
}
