/** What the banks of a passage are: a bed's edge, a wall, the lawn's own edge. */
import { SegmentIndex } from "../geometry/segment-index.ts";
import type { PointM } from "../model/geometry.ts";
import type { EdgeKind } from "../model/roles.ts";
import type { Site, Thing } from "../model/site.ts";
import type { EdgeRun } from "./edge-kinds.ts";

export interface Bank {
  /** The thing whose edge it is; undefined along the lawn's own edge. */
  readonly thing: Thing | undefined;
  readonly kind: EdgeKind;
}

/** Tells what the edge of the ground is at a place on it. */
export type BankFinder = (at: PointM) => Bank;

/** A thing whose edge lies this near to the ground's edge is what bounds it, metres. */
const REACH_M = 0.12;

/** @param runs the labelled edges of the ground */
export function bankFinder(site: Site, runs: readonly EdgeRun[]): BankFinder {
  const rings = site.things.flatMap((thing) =>
    thing.areas.flatMap((area) => [area.shell, ...area.holes].map((ring) => ({ thing, ring }))),
  );
  const things = new SegmentIndex(rings.map(({ ring }) => ring));
  const edges = new SegmentIndex(
    runs.map((run) => run.line),
    false,
  );
  return ([e, n]) => {
    const near = things.nearest(e, n, REACH_M);
    const thing = near && rings[things.ringOf[near.segment]!]!.thing;
    if (thing?.contact === "firm") return { thing, kind: thing.edgeKind };
    const edge = edges.nearest(e, n, REACH_M);
    const kind = edge ? runs[edges.ringOf[edge.segment]!]!.label.kind : "open";
    return { thing, kind };
  };
}
