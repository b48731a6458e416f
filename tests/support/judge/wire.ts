import { geodesicLengthM } from "../plane.ts";
import {
  between,
  distance,
  inside,
  lineLength,
  nearestOn,
  ringArea,
  SegmentGrid,
  segmentsOf,
} from "../segments.ts";
import { isSimpleLine } from "../topology.ts";
import { type Court, ofKind, polygonsIn, positions, type WireLoop } from "./types.ts";

/** Vertices nearer than this to each other count as touching, metres. */
const TOUCH_M = 0.001;

/** Parts of a wire this near to each other along it are judged as neighbours, metres. */
const NEIGHBOUR_M = 0.005;

/** Closed, simple, anticlockwise, spans, length, station, exclusion loops of one loop. */
export function judgeWire(court: Court, loop: WireLoop): void {
  const { wire, degrees, name } = loop;
  const say = (rule: string, more: Parameters<Court["breach"]>[1] = {}) =>
    court.breach(rule, { loop: name, ...more });
  const first = degrees[0]!;
  const last = degrees[degrees.length - 1]!;
  const start = wire[0]!;
  if (wire.length < 4) {
    say("wire-too-short", { measured: wire.length });
    return;
  }
  if (first[0] !== last[0] || first[1] !== last[1]) say("not-closed", { at: start });
  if (!isSimpleLine(degrees)) say("not-simple", { at: start });
  if (ringArea(wire.slice(0, -1)) <= 0 || loop.properties.direction !== "anticlockwise") {
    say("not-anticlockwise", { at: start });
  }
  for (let i = 1; i < wire.length; i++) {
    const span = distance(wire[i - 1]!, wire[i]!);
    court.figures.maxSpanM = Math.max(court.figures.maxSpanM, span);
    const allowed = court.limits.spacingMaxM + 0.0002;
    if (span > allowed) say("span-too-long", { at: wire[i - 1]!, measured: span, allowed });
    if (span < TOUCH_M) say("vertices-touch", { at: wire[i]!, measured: span, allowed: TOUCH_M });
  }
  judgeLength(court, loop);
  judgeNearness(court, loop);
  judgeStation(court, loop);
  for (const exclusion of ofKind(court, "exclusion-loop", name)) {
    for (const [shell] of polygonsIn(exclusion)) {
      const ring = shell!.map((at) => court.plane.toPlane(at));
      const length = lineLength(ring);
      const stated = Number(exclusion.properties?.length_m);
      if (Math.abs(stated - length) > 0.001 + 2e-6 * length) {
        say("exclusion-length", { at: ring[0]!, measured: stated, allowed: length });
      }
      judgeExclusion(court, loop, ring);
    }
  }
}

function judgeLength(court: Court, loop: WireLoop): void {
  const stated = Number(loop.properties.length_m);
  const geodesic = geodesicLengthM(loop.degrees);
  const error = stated - geodesic;
  court.figures.wireM += geodesic;
  if (Math.abs(error) > Math.abs(court.figures.lengthErrorM)) court.figures.lengthErrorM = error;
  if (!(Math.abs(error) <= 0.001 + 2e-6 * geodesic)) {
    court.breach("length", { loop: loop.name, measured: stated, allowed: geodesic });
  }
}

/** No two parts of a wire that are not neighbours touch: vertices, and vertices and spans. */
function judgeNearness(court: Court, loop: WireLoop): void {
  const { wire } = loop;
  const spans = segmentsOf(wire, 0);
  const grid = new SegmentGrid(spans, 1);
  const n = spans.length;
  const total = loop.chainage[n]!;
  /** Shortest way along the wire from vertex i to span j. */
  const alongWire = (i: number, j: number): number => {
    const way = (k: number) => Math.abs(loop.chainage[k]! - loop.chainage[i]!);
    return Math.min(...[j, j + 1].map((k) => Math.min(way(k), total - way(k))));
  };
  spans.forEach(({ a }, i) => {
    for (const j of grid.near(a, a, 0.05)) {
      if (j === i || (j + 1) % n === i || alongWire(i, j) < NEIGHBOUR_M) continue;
      const apart = distance(a, nearestOn(a, spans[j]!.a, spans[j]!.b));
      court.figures.minVertexApartM = Math.min(court.figures.minVertexApartM, apart);
      if (apart < TOUCH_M) {
        court.breach("wire-touches-itself", { loop: loop.name, at: a, measured: apart });
      }
    }
  });
}

function judgeStation(court: Court, loop: WireLoop): void {
  const stations = ofKind(court, "station", loop.name);
  if (stations.length !== 1) {
    court.breach("station-count", { loop: loop.name, measured: stations.length });
    return;
  }
  const start = loop.wire[0]!;
  const at = court.plane.toPlane(positions(stations[0]!)[0]!);
  const off = distance(at, start);
  if (off > 0.001) court.breach("station-off-wire", { loop: loop.name, at, measured: off });
  const next = loop.wire[1]!;
  const bearing = (Math.atan2(next[0] - start[0], next[1] - start[1]) * 180) / Math.PI;
  // The machine drives in along the wire, one way or the other; grids differ by their convergence.
  const turn = (Number(stations[0]!.properties?.bearing_deg) - bearing + 720) % 180;
  if (!(Math.min(turn, 180 - turn) < 1)) {
    court.breach("station-bearing", { loop: loop.name, at, measured: turn });
  }
}

/** What the wire shuts out lies outside it, and the wire runs along its rim. */
function judgeExclusion(
  court: Court,
  loop: WireLoop,
  ring: readonly (readonly [number, number])[],
) {
  const name = loop.name;
  const rim = ring.slice(0, -1);
  const grid = new SegmentGrid(segmentsOf(loop.wire, 0), 1);
  for (const at of rim) {
    const near = grid.near(at, at, 0.02).map((s) => grid.all[s]!);
    const off = Math.min(Infinity, ...near.map(({ a, b }) => distance(at, nearestOn(at, a, b))));
    if (off > 0.01) court.breach("exclusion-off-wire", { loop: name, at, measured: off });
  }
  // Points a little inside the ring, beside the middle of each edge.
  const turn = Math.sign(ringArea(rim));
  const body = loop.wire.slice(0, -1);
  for (let i = 0; i < rim.length; i++) {
    const a = rim[i]!;
    const b = rim[(i + 1) % rim.length]!;
    const length = distance(a, b);
    const at = [
      (a[0] + b[0]) / 2 - (turn * 0.015 * (b[1] - a[1])) / length,
      (a[1] + b[1]) / 2 + (turn * 0.015 * (b[0] - a[0])) / length,
    ] as const;
    if (!inside(at, rim)) continue;
    if (inside(at, body)) {
      court.breach("exclusion-inside-wire", { loop: name, at });
      return;
    }
  }
}

/** Loops keep apart, none inside another. */
export function judgeWiresTogether(court: Court): void {
  const names = court.loops.map((loop) => loop.name);
  if (new Set(names).size !== names.length) court.breach("loop-names", { measured: names.join() });
  if (court.loops.length < 2) return;
  const all = court.loops.flatMap((loop, l) => segmentsOf(loop.wire, l));
  const grid = new SegmentGrid(all, 2);
  const least = 0.05;
  all.forEach(({ a, b, data }, i) => {
    for (const j of grid.near(a, b, least)) {
      const other = all[j]!;
      if (j <= i || other.data === data) continue;
      const apart = between(a, b, other.a, other.b).distance;
      if (apart < least) court.breach("loops-meet", { loop: names[data]!, at: a, measured: apart });
    }
  });
  for (const one of court.loops) {
    for (const other of court.loops) {
      if (one !== other && inside(one.wire[0]!, other.wire.slice(0, -1))) {
        court.breach("loop-in-loop", { loop: one.name, at: one.wire[0]! });
      }
    }
  }
}
