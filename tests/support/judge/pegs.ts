import { distance, nearestOn, SegmentGrid, segmentsOf } from "../segments.ts";
import { type Court, ofKind, positions, type WireLoop } from "./types.ts";

const REACH_M = 0.01;

/** Pegs: where the wire is, in order, with true chainages. */
export function judgePegs(court: Court, loop: WireLoop): void {
  const { wire, chainage, name } = loop;
  const say = (rule: string, more: Parameters<Court["breach"]>[1] = {}) =>
    court.breach(rule, { loop: name, ...more });
  const pegs = ofKind(court, "peg", name).map((feature) => ({
    at: court.plane.toPlane(positions(feature)[0]!),
    number: String(feature.properties?.number),
    chainage: Number(feature.properties?.chainage_m),
    second: feature.properties?.second_chainage_m as number | undefined,
    on: String(feature.properties?.on),
  }));
  court.figures.pegs += pegs.length;
  const body = wire.slice(0, -1);
  const spots = new SegmentGrid(
    pegs.map(({ at }, i) => ({ a: at, b: at, data: i })),
    0.5,
  );
  const passes: number[][] = pegs.map(() => []);
  body.forEach((at, i) => {
    const near = spots.near(at, at, 2 * REACH_M);
    const [peg] = near.sort((p, q) => distance(pegs[p]!.at, at) - distance(pegs[q]!.at, at));
    const off = peg === undefined ? Infinity : distance(pegs[peg]!.at, at);
    if (off > REACH_M) say("vertex-without-peg", { at, measured: off, allowed: REACH_M });
    else passes[peg!]!.push(i);
    if (off < Infinity) court.figures.maxPegOffM = Math.max(court.figures.maxPegOffM, off);
  });
  const grid = new SegmentGrid(segmentsOf(wire, 0), 1);
  pegs.forEach((peg, p) => {
    const near = grid.near(peg.at, peg.at, 2 * REACH_M).map((s) => grid.all[s]!);
    const off = Math.min(
      Infinity,
      ...near.map(({ a, b }) => distance(peg.at, nearestOn(peg.at, a, b))),
    );
    if (off > REACH_M) say("peg-off-wire", { at: peg.at, measured: off, allowed: REACH_M });
    judgeChainage(
      peg,
      passes[p]!.map((i) => chainage[i]!),
    );
  });
  const sorted = [...pegs].sort((a, b) => a.chainage - b.chainage);
  sorted.forEach((peg, i) => {
    const wanted = `${name}${i + 1}`;
    if (peg.number !== wanted) {
      say("peg-number", { at: peg.at, measured: peg.number, allowed: wanted });
    }
  });
  const start = sorted[0];
  if (start && (start.on !== "station" || distance(start.at, wire[0]!) > 0.001)) {
    say("station-peg", { at: start.at, measured: start.on });
  }
  if (pegs.filter((peg) => peg.on === "station").length !== 1) say("station-peg");
  if (pegs.some((peg) => !["straight", "bend", "pair", "station"].includes(peg.on))) say("peg-on");

  function judgeChainage(peg: (typeof pegs)[number], at: readonly number[]): void {
    const { at: place } = peg;
    if (at.length === 0) {
      say("peg-without-vertex", { at: place });
      return;
    }
    const stated = [peg.chainage, ...(peg.second === undefined ? [] : [Number(peg.second)])];
    // At a corner from which several runs set out the wire comes by more than twice.
    const wanted = at.slice(0, 2);
    if (stated.length !== wanted.length) {
      say("chainage-count", { at: place, measured: stated.length, allowed: wanted.length });
      return;
    }
    stated.forEach((value, k) => {
      const error = Math.abs(value - wanted[k]!);
      court.figures.maxChainageErrorM = Math.max(court.figures.maxChainageErrorM, error);
      if (!(error <= 0.001)) {
        say("chainage", { at: place, measured: value, allowed: wanted[k]! });
      }
    });
    if (stated.length === 2 && peg.on !== "pair" && peg.on !== "station") {
      say("pair-peg", { at: place, measured: peg.on });
    }
  }
}
