import type { PointM } from "../../model/geometry.ts";
import type { RayRoom } from "./ray-room.ts";

/** One straight drive from edge to edge. */
export type OnDrive = (fromM: PointM, toM: PointM, lengthM: number) => boolean;

/** After more slips than this the walk ends: there is no way out of the start. */
export const SLIPS_MAX = 1000;

/** A turn starts this far inside the edge that was met, metres. */
const OFF_EDGE_M = 1e-6;

/**
 * Drives straight on until an edge, turns to a random heading into the room, and so on.
 *
 * The sine of the angle between heading and the edge's inward normal is uniform (Lambert's cosine
 * law). With it drives are random straight lines through the lawn, whose mean length is π A / P
 * (Cauchy and Crofton; Santaló, Integral Geometry and Geometric Probability, 1976, from memory).
 * Machines turn by rules of their own; this is the fair die among them.
 *
 * @param startM a place inside the room
 * @param onDrive called for each drive; false ends the walk
 * @returns drives that slipped past a corner and were taken back to the start; hardly any
 */
export function randomDrives(
  room: RayRoom,
  startM: PointM,
  random: () => number,
  onDrive: OnDrive,
): number {
  let at = startM;
  let heading = unit(2 * Math.PI * random());
  let slips = 0;
  for (;;) {
    const hit = room.leave(at, heading);
    if (!hit) {
      if (++slips > SLIPS_MAX) return slips;
      at = startM;
      heading = unit(2 * Math.PI * random());
      continue;
    }
    if (!onDrive(at, hit.atM, hit.lengthM)) return slips;
    const [ie, inn] = hit.inward;
    at = [hit.atM[0] + OFF_EDGE_M * ie, hit.atM[1] + OFF_EDGE_M * inn];
    const sine = 2 * random() - 1;
    const cosine = Math.sqrt(1 - sine * sine);
    heading = [cosine * ie - sine * inn, cosine * inn + sine * ie];
  }
}

const unit = (angle: number): [number, number] => [Math.cos(angle), Math.sin(angle)];
