import { pointInside } from "../../geometry/containment.ts";
import { areaM2, ringContains } from "../../geometry/rings.ts";
import type { AreaM, PointM } from "../../model/geometry.ts";
import type { Loop, Plan } from "../../model/plan.ts";
import { randomDrives } from "./drive.ts";
import { LawnCells } from "./lawn-cells.ts";
import { RayRoom } from "./ray-room.ts";
import { seeded } from "./seeded.ts";

/** What a machine that drives at random keeps of a loop's lawn. */
export interface LoopCoverage {
  readonly loop: string;
  /** Share of the lawn gone over at least once after so many hours of mowing. */
  readonly after: readonly { readonly hours: number; readonly share: number }[];
  /** The same where every other trip begins at the far end of the guide wire; empty without one. */
  readonly withGuide: readonly { readonly hours: number; readonly share: number }[];
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
  const hours = options.hours ?? HOURS;
  const out: LoopCoverage[] = [];
  plan.loops.forEach((loop, index) => {
    const areas = plan.mown.filter((one) => one.loop === loop.name).flatMap((one) => one.areas);
    if (areas.length === 0) return;
    const room = new RayRoom(areas);
    const fields = areas.map((area) => ({
      area,
      lawnM2: Math.max(1e-6, areaM2(area)),
      insideM: insideNear(pointInside(area.shell), room) ?? pointInside(area.shell),
    }));
    const seed = (options.seed ?? 1) + 7919 * index;
    const { speedMPerS, cutWidthM, runMin } = plan.profile.work;
    const go = (starts: readonly PointM[]) => {
      const cells = new LawnCells(areas, cutWidthM / CELLS_ACROSS);
      const random = seeded(seed);
      const figures: { hours: number; share: number }[] = [];
      const tripM = runMin * 60 * speedMPerS;
      let [drives, drivenM] = [0, 0];
      const places = fields.map((field) => ({ ...field, trips: 0, drivenM: 0 }));
      while (figures.length < hours.length) {
        // The place that is furthest behind by its lawn is next.
        const place = places.reduce((a, b) =>
          b.drivenM / b.lawnM2 < a.drivenM / a.lawnM2 ? b : a,
        );
        const own = starts.filter((start) => holds(place.area, start));
        const from = own.length > 0 ? own[place.trips++ % own.length]! : place.insideM;
        let tripLeftM = tripM;
        const slips = randomDrives(room, from, random, (from, to, lengthM) => {
          cells.mow(drives++, from, to, cutWidthM);
          drivenM += lengthM;
          place.drivenM += lengthM;
          tripLeftM -= lengthM;
          while (
            figures.length < hours.length &&
            drivenM >= hours[figures.length]! * 3600 * speedMPerS
          ) {
            const share = cells.total > 0 ? cells.reached / cells.total : 0;
            figures.push({ hours: hours[figures.length]!, share });
          }
          return tripLeftM > 0 && figures.length < hours.length;
        });
        // No way out of the start at all: there is nothing to drive in.
        if (slips > 1000) break;
      }
      return { figures, cells, drives, drivenM };
    };
    const station = nudgedIn(loop, room);
    const plain = go([station]);
    const far = loop.guideWires.map((guide) => guideEnd(guide.line, room)).filter(isPoint);
    out.push({
      loop: loop.name,
      after: plain.figures,
      withGuide: far.length > 0 ? go([station, ...far]).figures : [],
      missed: plain.cells.largestMissed(),
      drives: plain.drives,
      meanDriveM: plain.drives > 0 ? plain.drivenM / plain.drives : 0,
    });
  });
  return out;
}

const holds = ({ shell, holes }: AreaM, [e, n]: PointM) =>
  ringContains(shell, e, n) && !holes.some((hole) => ringContains(hole, e, n));

const isPoint = (point: PointM | undefined): point is PointM => point !== undefined;

/** Into the lawn from the station: some way along the normal of the wire there. */
function nudgedIn(loop: Loop, room: RayRoom): PointM {
  const [e, n] = loop.station.atM;
  return insideNear([e, n], room) ?? [e, n];
}

function guideEnd(line: Float64Array, room: RayRoom): PointM | undefined {
  // Its last point lies on the wire; the one before is well inside.
  return insideNear([line[line.length - 4]!, line[line.length - 3]!], room);
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
