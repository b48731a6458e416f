import type { LineM, PointM, RingM } from "../../model/geometry.ts";
import type { GuideWire, Loop, Peg, Plan } from "../../model/plan.ts";
import type {
  GuideOnGround,
  HeightLattice,
  LengthOnGround,
  LoopOnGround,
  PegOnGround,
  PlanOnGround,
} from "../../model/terrain.ts";
import { edgeFalls } from "./edge-falls.ts";
import { heightAt } from "./height-at.ts";
import { lawnSlopes } from "./lawn-slopes.ts";
import { type LineOnGround, lineOnGround } from "./line-on-ground.ts";
import { slopesOf } from "./slopes.ts";
import { steepAreas } from "./steep-areas.ts";

/** A plan laid on the ground, and the first place of its wire without a height. */
export interface LaidOnGround {
  readonly ground: PlanOnGround;
  readonly unknownAtM: PointM | undefined;
}

/**
 * Lengths, chainages and heights of a finished plan on the ground, and where that is too steep.
 * Linear in wire and lattice. Needs `loadEngine()` awaited.
 */
export function planOnGround(plan: Plan, lattice: HeightLattice): LaidOnGround {
  const measured = plan.loops.map((loop) => ({
    loop,
    wire: lineOnGround(closed(loop.wire), lattice),
  }));
  const lowestM = Math.min(...measured.map(({ wire }) => wire.lowestM));
  const highestM = Math.max(...measured.map(({ wire }) => wire.highestM));
  const slopes = slopesOf(lattice);
  const isKnown = lowestM <= highestM;
  return {
    ground: {
      from: lattice.from,
      stepM: lattice.stepM,
      lowestM: isKnown ? lowestM : undefined,
      highestM: isKnown ? highestM : undefined,
      loops: measured.map(({ loop, wire }) => loopOnGround(loop, wire, lattice)),
      lawns: lawnSlopes(plan, lattice, slopes),
      steep: steepAreas(plan, lattice, slopes),
      falls: edgeFalls(plan, lattice, slopes),
    },
    unknownAtM: measured.find(({ wire }) => wire.unknownAtM)?.wire.unknownAtM,
  };
}

function loopOnGround(loop: Loop, wire: LineOnGround, lattice: HeightLattice): LoopOnGround {
  const measure = (line: LineM) => lengthOf(lineOnGround(line, lattice));
  return {
    loop: loop.name,
    wire: lengthOf(wire),
    pegs: loop.pegs.map((peg) => pegOnGround(peg, wire, lattice)),
    pairedRuns: loop.pairedRuns.map((run) => measure(run.line)),
    exclusionLoops: loop.exclusionLoops.map(({ ring }) => measure(closed(ring))),
    guideWires: loop.guideWires.map((guide) => guideOnGround(guide, lattice)),
  };
}

function guideOnGround({ line, pegs }: GuideWire, lattice: HeightLattice): GuideOnGround {
  const wire = lineOnGround(line, lattice);
  return { ...lengthOf(wire), pegs: pegs.map((peg) => pegOnGround(peg, wire, lattice)) };
}

function pegOnGround(
  { atM, chainageM, secondChainageM }: Pick<Peg, "atM" | "chainageM" | "secondChainageM">,
  wire: LineOnGround,
  lattice: HeightLattice,
): PegOnGround {
  const heightM = heightAt(lattice, ...atM);
  return {
    ...(Number.isNaN(heightM) ? {} : { heightM }),
    chainageM: wire.chainageOf(chainageM),
    ...(secondChainageM === undefined ? {} : { secondChainageM: wire.chainageOf(secondChainageM) }),
  };
}

const lengthOf = ({ groundM, unknownM }: LineOnGround): LengthOnGround => ({ groundM, unknownM });

/** A ring as a line that ends where it began. */
function closed(ring: RingM): LineM {
  const line = new Float64Array(ring.length + 2);
  line.set(ring);
  line.set(ring.subarray(0, 2), ring.length);
  return line;
}
