/**
 * Coordinates in another reference system, without its projection: over a site the way there from
 * the site grid is so nearly straight that a biquadratic through nine places gives it within 0.1 mm
 * over some kilometres.
 */
import type { PointM } from "../../model/geometry.ts";

/** A system in which the page shows places, too. */
export interface PageSystem {
  /** `EPSG:N` and its name, or what else it is called. */
  readonly name: string;
  readonly isDegrees: boolean;
  /** Middle of the nine places in the site grid, and how far the outer ones lie from it, metres. */
  readonly centre: PointM;
  readonly reachM: number;
  /** Easting and northing (or longitude and latitude) at them, row by row from the south-west. */
  readonly nodes: readonly (readonly [number, number])[];
}

/** A place of the site grid in a system of the page. */
export function inSystem({ centre, reachM, nodes }: PageSystem, [e, n]: PointM): [number, number] {
  const [us, vs] = [weights((e - centre[0]) / reachM), weights((n - centre[1]) / reachM)];
  // About the middle node, so that large coordinates lose no digits.
  const [x0, y0] = nodes[4]!;
  let [x, y] = [0, 0];
  for (let i = 0; i < nodes.length; i++) {
    const weight = us[i % 3]! * vs[Math.floor(i / 3)]!;
    x += weight * (nodes[i]![0] - x0);
    y += weight * (nodes[i]![1] - y0);
  }
  return [x0 + x, y0 + y];
}

/** Lagrange's weights of the nodes -1, 0 and 1. */
const weights = (t: number) => [(t * (t - 1)) / 2, 1 - t * t, (t * (t + 1)) / 2] as const;
