/**
 * Lawn inside each loop of wire, by Green's theorem: the shoelace sum over the wire where it lies on
 * lawn and over the outlines of lawn inside the wire. Nothing is overlaid. What lies between the two
 * wires of a pair counts as inside.
 */
import type { Case } from "./case.ts";
import type { Ground } from "./ground/ground.ts";
import { LAWN, type Piece } from "./ground/pieces.ts";
import { crossingShare, meet, shareAt } from "./kernel/plane.ts";
import { SegmentTree } from "./kernel/segment-tree.ts";
import type { Wires } from "./wires.ts";

const known = new WeakMap<Case, readonly number[]>();

/** m² for each loop. */
export function mownOf(court: Case): readonly number[] {
  const found = known.get(court) ?? reckon(court);
  known.set(court, found);
  return found;
}

function reckon(court: Case): number[] {
  const { wires, ground } = court;
  const sums = wires.loops.map(() => 0);
  const { ends } = wires.tree;
  // About the first vertex: sums of small numbers lose nothing.
  const [oe, on] = [ends[0] ?? 0, ends[1] ?? 0];
  const twice = (ae: number, an: number, be: number, bn: number): number =>
    (ae - oe) * (bn - on) - (be - oe) * (an - on);
  const edges: LawnEdge[] = [];
  const edgeOf = new Int32Array(ground.pieces.length).fill(-1);
  ground.pieces.forEach((piece, p) => {
    const edge = lawnOnLeft(piece);
    if (!edge) return;
    edgeOf[p] = edges.length;
    edges.push(edge);
  });
  const pieceCuts: number[][] = edges.map(() => []);
  const tree = ground.pieceTree;
  for (let loop = 0; loop < wires.loops.length; loop++) {
    const cuts: { s: number; share: number }[] = [];
    for (let s = wires.starts[loop]!; s < wires.starts[loop + 1]!; s++) {
      const k = 4 * s;
      const [ae, an, be, bn] = [ends[k]!, ends[k + 1]!, ends[k + 2]!, ends[k + 3]!];
      for (const p of tree.around(ae, an, be, bn, 0)) {
        const i = edgeOf[p]!;
        if (i < 0) continue;
        const edge = edges[i]!;
        if (!meet(ae, an, be, bn, edge.ae, edge.an, edge.be, edge.bn)) continue;
        cuts.push({ s, share: crossingShare(ae, an, be, bn, edge.ae, edge.an, edge.be, edge.bn) });
        pieceCuts[i]!.push(crossingShare(edge.ae, edge.an, edge.be, edge.bn, ae, an, be, bn));
      }
    }
    sums[loop] = wireSum(court, loop, cuts, twice);
  }
  const edgeTree = new SegmentTree(edges.flatMap(({ ae, an, be, bn }) => [ae, an, be, bn]));
  edges.forEach((edge, i) => {
    let drawnTwice: boolean | undefined;
    const shares = [0, ...pieceCuts[i]!.sort((x, y) => x - y), 1];
    for (let c = 0; c + 1 < shares.length; c++) {
      const [from, to] = [shares[c]!, shares[c + 1]!];
      if (to - from < 1e-12) continue;
      const at = (share: number): [number, number] => [
        edge.ae + share * (edge.be - edge.ae),
        edge.an + share * (edge.bn - edge.an),
      ];
      const middle = at((from + to) / 2);
      for (const loop of wires.loopsAbout(middle[0], middle[1])) {
        if (wires.winding(loop, middle[0], middle[1]) === 0) continue;
        drawnTwice ??= isRepeated(edges, edgeTree, i);
        if (drawnTwice) break;
        sums[loop]! += twice(...at(from), ...at(to));
      }
    }
  });
  const slits = slitsOf(court);
  const carried = carriedSlitsOf(court);
  return sums.map((sum, loop) => sum / 2 + slits[loop]! - carried[loop]!);
}

const SAMPLES = [0.1, 0.3, 0.5, 0.7, 0.9];

/** Lawn between the two wires of pairs, m² for each loop: driven over like the rest. */
function slitsOf({ wires, ground }: Case): number[] {
  const slits = wires.loops.map(() => 0);
  for (const [s, stretches] of wires.paired) {
    for (const { from, to, gapM } of stretches) {
      // Each slit is seen from both its wires. Where it crosses paving nothing is mown.
      const onLawnM = lawnUnder(wires, ground, s, from, to) * (to - from) * wires.segmentM(s);
      slits[wires.loopOf[s]!]! += (onLawnM * gapM) / 2;
    }
  }
  return slits;
}

/** Lawn between the two wires of runs to carried parts, m² for each loop: inside, and mown by nobody. */
function carriedSlitsOf({ wires, ground, carried }: Case): number[] {
  const slits = wires.loops.map(() => 0);
  for (const s of carried.segments) {
    // From each wire to the centre line.
    const offM = carried.offM(...wires.pointAt(s, 0.5))!;
    slits[wires.loopOf[s]!]! += lawnUnder(wires, ground, s, 0, 1) * wires.segmentM(s) * offM;
  }
  return slits;
}

/** Share of a stretch of wire that lies on lawn, by samples. */
function lawnUnder(wires: Wires, ground: Ground, s: number, from: number, to: number): number {
  const onLawn = SAMPLES.filter(
    (x) => ground.covers.at(...wires.pointAt(s, from + x * (to - from))) === LAWN,
  );
  return onLawn.length / SAMPLES.length;
}

type Twice = (ae: number, an: number, be: number, bn: number) => number;

/** Shoelace sum over the wire where it lies on lawn. */
function wireSum(
  { wires, ground }: Case,
  loop: number,
  cuts: { s: number; share: number }[],
  twice: Twice,
): number {
  cuts.sort((x, y) => x.s - y.s || x.share - y.share);
  let sum = 0;
  let c = 0;
  let onLawn: boolean | undefined;
  for (let s = wires.starts[loop]!; s < wires.starts[loop + 1]!; s++) {
    const shares = [0];
    while (c < cuts.length && cuts[c]!.s === s) shares.push(cuts[c++]!.share);
    shares.push(1);
    for (let i = 0; i + 1 < shares.length; i++) {
      const [from, to] = [shares[i]!, shares[i + 1]!];
      if (i > 0) onLawn = undefined;
      if (to - from < 1e-12) continue;
      onLawn ??= ground.covers.at(...wires.pointAt(s, (from + to) / 2)) === LAWN;
      if (onLawn) sum += twice(...wires.pointAt(s, from), ...wires.pointAt(s, to));
    }
    // After a cut exactly at the end the next stretch is asked anew.
    if (shares.length > 2) onLawn = undefined;
  }
  return sum;
}

interface LawnEdge {
  readonly ae: number;
  readonly an: number;
  readonly be: number;
  readonly bn: number;
}

/** The piece with lawn on its left and none on its right. */
function lawnOnLeft({ ae, an, be, bn, left, right }: Piece): LawnEdge | undefined {
  if (left === LAWN && right !== LAWN) return { ae, an, be, bn };
  if (right === LAWN && left !== LAWN) return { ae: be, an: bn, be: ae, bn: an };
  return undefined;
}

/** Outlines this near to each other are one, metres. */
const SAME_M = 0.001;

/** Whether an earlier edge lies on the same place: two outlines often share an edge. */
function isRepeated(edges: readonly LawnEdge[], tree: SegmentTree, i: number): boolean {
  const { ae, an, be, bn } = edges[i]!;
  const [e, n] = [(ae + be) / 2, (an + bn) / 2];
  return tree.around(e, n, e, n, SAME_M).some((j) => {
    if (j >= i || tree.distanceM(j, e, n) > SAME_M) return false;
    const other = edges[j]!;
    // Beside it, not before or after it.
    const share = shareAt(e, n, other.ae, other.an, other.be, other.bn);
    if (share === 0 || share === 1) return false;
    const one = Math.hypot(be - ae, bn - an);
    const two = Math.hypot(other.be - other.ae, other.bn - other.an);
    const dot = (be - ae) * (other.be - other.ae) + (bn - an) * (other.bn - other.an);
    return dot > 0.99 * one * two;
  });
}
