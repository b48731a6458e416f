/** Dimensions on paper: passages, and the set-in where it is typical. */
import { SegmentIndex } from "../../geometry/segment-index.ts";
import type { PointM } from "../../model/geometry.ts";
import type { Loop, Passage } from "../../model/plan.ts";
import type { Site } from "../../model/site.ts";
import { styleNamed } from "../style/plan-style.ts";
import { type Canvas, COSTS } from "./canvas.ts";
import { arrowHead } from "./draw-wire.ts";
import { placesRound } from "./labels/place-labels.ts";
import type { PointMm } from "./plot.ts";
import { line, type Shape } from "./scene.ts";

const INK = "#000000";
const THIN = { colour: INK, widthMm: 0.18 };
const HEAD = { length: 1.5, half: 0.35 };
const OUTSIDE_MM = 2.6;

/** A measure between two points: arrows inside where there is room, else outside. */
export function dimensionShapes(a: PointMm, b: PointMm): { shapes: Shape[]; ends: PointMm[] } {
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  const angle = Math.atan2(b[1] - a[1], b[0] - a[0]);
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
  const isInside = length >= 4.5;
  const reach = isInside ? 0 : OUTSIDE_MM;
  const from: PointMm = [a[0] - reach * cos, a[1] - reach * sin];
  const to: PointMm = [b[0] + reach * cos, b[1] + reach * sin];
  const half = (isInside ? 1 : -1) * (HEAD.length / 2);
  const heads = [
    arrowHead(a[0] + half * cos, a[1] + half * sin, isInside ? angle + Math.PI : angle, HEAD),
    arrowHead(b[0] - half * cos, b[1] - half * sin, isInside ? angle : angle + Math.PI, HEAD),
  ];
  return {
    shapes: [line([...from, ...to], THIN), { kind: "path", lines: heads, fill: { colour: INK } }],
    ends: [from, to],
  };
}

/** A passage: its way, its least width as a measure, its number with both widths. */
export function drawPassage(canvas: Canvas, passage: Passage): void {
  const { plot, clutter } = canvas;
  const style = `passage-${passage.verdict}` as const;
  const lines = plot.seen(passage.centreLine);
  if (lines.length > 0) {
    canvas.used.add(style);
    canvas.add("passages", { kind: "path", lines, stroke: styleNamed(style).stroke });
  }
  if (!plot.isSeen(passage.atM, 2)) return;
  const across = ((passage.bearingDeg + 90) * Math.PI) / 180;
  const half = passage.widthM / 2;
  const bank = (sign: number): PointMm =>
    plot.at([
      passage.atM[0] + sign * half * Math.sin(across),
      passage.atM[1] + sign * half * Math.cos(across),
    ]);
  const [a, b] = [bank(-1), bank(1)];
  const { shapes, ends } = dimensionShapes(a, b);
  canvas.used.add("passage-mark");
  canvas.add("dimensions", ...shapes);
  clutter.addSegment([...ends[0]!, ...ends[1]!], COSTS.dimension);
  const wireM = Math.max(0, passage.wireWidthM);
  canvas.label({
    lines: [
      { text: `P${passage.number}`, bold: true },
      { text: `${canvas.words.number(passage.widthM, 2)} (${canvas.words.number(wireM, 2)})` },
    ],
    rank: 3,
    isNeeded: true,
    places: (width, height) =>
      [...ends, plot.at(passage.atM)].flatMap((end) =>
        placesRound(end, width, height, { clearMm: 0.7, leadersMm: [3, 6, 10, 15] }),
      ),
  });
}

export interface Span {
  readonly middle: PointM;
  readonly foot: PointM;
  readonly distanceM: number;
  readonly lengthM: number;
}

/** Edges farther from the wire than this are not what it is set in from, metres. */
const EDGE_MAX_M = 3;
/** Set-ins that differ by less count as one, metres. */
const STEP_M = 0.05;
const MARKS_MAX = 6;
/** A set-in that less wire has gets no mark: share of the loop. */
const LEAST_SHARE = 0.02;

/** Marks the set-in in a few typical places of a loop: one for each size that is common. */
export function drawSetins(canvas: Canvas, loop: Loop, spans: readonly Span[]): void {
  const groups = new Map<number, Span[]>();
  for (const span of spans) {
    if (!canvas.plot.isSeen(span.middle, 6)) continue;
    const key = Math.round(span.distanceM / STEP_M);
    const list = groups.get(key);
    if (list) list.push(span);
    else groups.set(key, [span]);
  }
  const length = (spans: readonly Span[]) => spans.reduce((sum, one) => sum + one.lengthM, 0);
  const common = [...groups.values()]
    .filter((spans) => length(spans) >= LEAST_SHARE * loop.lengthM)
    .sort((a, b) => length(b) - length(a))
    .slice(0, MARKS_MAX);
  for (const spans of common) {
    const longest = spans.reduce((best, one) => (one.lengthM > best.lengthM ? one : best));
    drawSetin(canvas, longest);
  }
}

function drawSetin(canvas: Canvas, { middle, foot, distanceM }: Span): void {
  const { plot, clutter } = canvas;
  const { shapes, ends } = dimensionShapes(plot.at(foot), plot.at(middle));
  canvas.used.add("setin-mark");
  canvas.add("dimensions", ...shapes);
  clutter.addSegment([...ends[0]!, ...ends[1]!], COSTS.dimension);
  canvas.label({
    lines: [{ text: canvas.words.number(distanceM, 2) }],
    rank: 7,
    isNeeded: false,
    places: (width, height) =>
      ends.flatMap((end) => placesRound(end, width, height, { clearMm: 0.5, leadersMm: [3, 6] })),
  });
}

/** Spans between neighbouring vertices of the wire and what they are set in from. */
export function spansOf({ wire, pairedRuns, station }: Loop, edges: SegmentIndex): Span[] {
  const pairs = new SegmentIndex(
    pairedRuns.map((run) => run.line),
    false,
  );
  const spans: Span[] = [];
  const count = wire.length / 2;
  for (let i = 0; i < count; i++) {
    const j = (i + 1) % count;
    const [ae, an] = [wire[2 * i]!, wire[2 * i + 1]!];
    const [be, bn] = [wire[2 * j]!, wire[2 * j + 1]!];
    const middle: PointM = [(ae + be) / 2, (an + bn) / 2];
    if (pairs.nearest(...middle, 0.5)) continue;
    if (Math.hypot(middle[0] - station.atM[0], middle[1] - station.atM[1]) < 1) continue;
    const near = edges.nearest(...middle, EDGE_MAX_M);
    if (!near || near.distanceM < 0.02) continue;
    spans.push({
      middle,
      foot: footOn(edges, near.segment, middle),
      distanceM: near.distanceM,
      lengthM: Math.hypot(be - ae, bn - an),
    });
  }
  return spans;
}

function footOn(edges: SegmentIndex, segment: number, [e, n]: PointM): PointM {
  const [ae, an] = edges.from(segment);
  const [be, bn] = edges.to(segment);
  const [de, dn] = [be - ae, bn - an];
  const share = Math.max(
    0,
    Math.min(1, ((e - ae) * de + (n - an) * dn) / (de * de + dn * dn || 1)),
  );
  return [ae + share * de, an + share * dn];
}

/** Everything that wire is set in from: edges of lawn and of things. */
export function edgesOf(site: Site): SegmentIndex {
  const areas = [
    ...site.lawns.map((lawn) => lawn.area),
    ...site.things.filter((thing) => thing.contact !== "flush").flatMap((thing) => thing.areas),
  ];
  return new SegmentIndex(areas.flatMap((area) => [area.shell, ...area.holes]));
}
