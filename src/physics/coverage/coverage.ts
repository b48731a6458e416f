import { pointInside } from "../../geometry/containment.ts";
import { areaContains, areaM2 } from "../../geometry/rings.ts";
import type { AreaM, PointM } from "../../model/geometry.ts";
import type { Loop, Plan } from "../../model/plan.ts";
import type { Profile } from "../../model/profile.ts";
import { randomDrives, SLIPS_MAX } from "./drive.ts";
import { LawnCells } from "./lawn-cells.ts";
import { RayRoom } from "./ray-room.ts";
import { seeded } from "./seeded.ts";

/** Share of the lawn gone over at least once after so many hours of mowing. */
export interface ShareAfter {
  readonly hours: number;
  readonly share: number;
}

/** What a machine that drives at random keeps of a loop's lawn. */
export interface LoopCoverage {
  readonly loop: string;
  readonly after: readonly ShareAfter[];
  /** The same where every other trip begins at the far end of the guide wire; empty without one. */
  readonly withGuide: readonly ShareAfter[];
  /** Largest patch never gone over, after all hours. */
  readonly missed: { readonly atM: PointM; readonly areaM2: number } | undefined;
  /** Straight drives simulated, and their mean length, metres. */
  readonly drives: number;
  readonly meanDriveM: number;
}

export interface CoverageOptions {
  readonly seed?: number;
  /** Hours of mowing (charging not counted) after which the share is said. Ascending. */
  readonly hours?: readonly number[];
}

/** Cells across the blades. */
const CELLS_ACROSS = 2;
const HOURS = [2, 4, 8, 16, 32] as const;

/**
 * Simulates the machine on every loop of a plan. The same seed, the same figures.
 *
 * Mown areas of one loop that hang together by a passage or a path are driven in turn, so that each
 * has its share of the time by its lawn: how often a machine finds its way through is not simulated.
 */
export function coverageOf(plan: Plan, options: CoverageOptions = {}): LoopCoverage[] {
  const { seed = 1, hours = HOURS } = options;
  return plan.loops.flatMap((loop, index) => {
    const areas = plan.mown.filter((one) => one.loop === loop.name).flatMap((one) => one.areas);
    if (areas.length === 0) return [];
    return [loopCoverage(loop, fieldOf(areas), plan.profile, hours, seed + 7919 * index)];
  });
}

/** Where the machine of one loop drives. */
interface Field {
  readonly areas: readonly AreaM[];
  readonly room: RayRoom;
  readonly places: readonly Place[];
}

interface Place {
  readonly area: AreaM;
  readonly lawnM2: number;
  /** A place to begin at where no start lies in the area. */
  readonly insideM: PointM;
}

function fieldOf(areas: readonly AreaM[]): Field {
  const room = new RayRoom(areas);
  const places = areas.map((area): Place => {
    const middle = pointInside(area.shell);
    return {
      area,
      lawnM2: Math.max(1e-6, areaM2(area)),
      insideM: insideNear(middle, room) ?? middle,
    };
  });
  return { areas, room, places };
}

function loopCoverage(
  { name, station, guideWires }: Loop,
  field: Field,
  profile: Profile,
  hours: readonly number[],
  seed: number,
): LoopCoverage {
  const home = insideNear(station.atM, field.room) ?? station.atM;
  const far = guideWires.flatMap(({ line }) => {
    // Its last point lies on the wire; the one before is well inside.
    const end = insideNear([line[line.length - 4]!, line[line.length - 3]!], field.room);
    return end ? [end] : [];
  });
  const plain = mowFrom([home], field, profile, hours, seed);
  return {
    loop: name,
    after: plain.after,
    withGuide: far.length > 0 ? mowFrom([home, ...far], field, profile, hours, seed).after : [],
    missed: plain.cells.largestMissed(),
    drives: plain.drives,
    meanDriveM: plain.drives > 0 ? plain.drivenM / plain.drives : 0,
  };
}

/** Trip after trip, from one start after the other, until the last of the hours is over. */
function mowFrom(
  starts: readonly PointM[],
  { areas, room, places }: Field,
  { work }: Profile,
  hours: readonly number[],
  seed: number,
) {
  const { speedMPerS, cutWidthM, runMin } = work;
  const cells = new LawnCells(areas, cutWidthM / CELLS_ACROSS);
  const random = seeded(seed);
  const after: ShareAfter[] = [];
  let [drives, drivenM] = [0, 0];
  const turns = places.map((place) => ({
    ...place,
    starts: starts.filter(([e, n]) => areaContains(place.area, e, n)),
    trips: 0,
    drivenM: 0,
  }));
  while (after.length < hours.length) {
    // The place that is furthest behind by its lawn is next.
    const turn = turns.reduce((a, b) => (b.drivenM / b.lawnM2 < a.drivenM / a.lawnM2 ? b : a));
    const start = turn.starts[turn.trips++ % turn.starts.length] ?? turn.insideM;
    let tripLeftM = runMin * 60 * speedMPerS;
    const slips = randomDrives(room, start, random, (from, to, lengthM) => {
      cells.mow(drives++, from, to, cutWidthM);
      drivenM += lengthM;
      turn.drivenM += lengthM;
      tripLeftM -= lengthM;
      while (after.length < hours.length && drivenM >= hours[after.length]! * 3600 * speedMPerS) {
        const share = cells.total > 0 ? cells.reached / cells.total : 0;
        after.push({ hours: hours[after.length]!, share });
      }
      return tripLeftM > 0 && after.length < hours.length;
    });
    // No way out of the start at all: there is nothing to drive in.
    if (slips > SLIPS_MAX) break;
  }
  return { after, cells, drives, drivenM };
}

/** A place inside the room as near as may be, tried in rings of 16 directions. */
function insideNear([e, n]: PointM, room: RayRoom): PointM | undefined {
  for (const reachM of [0, 0.02, 0.1, 0.3, 0.6, 1, 1.5, 2.5, 4, 8]) {
    for (let k = 0; k < 16; k++) {
      const angle = (2 * Math.PI * (k + 0.37)) / 16;
      const at: PointM = [e + reachM * Math.cos(angle), n + reachM * Math.sin(angle)];
      if (TRIES.every((direction) => room.leave(at, direction) !== undefined)) return at;
    }
  }
  return undefined;
}

const TRIES: readonly (readonly [number, number])[] = [0.3, 2.4, 4.5].map((angle) => [
  Math.cos(angle),
  Math.sin(angle),
]);
