/** Wire, pegs and stations on paper. */
import type { JointPeg } from "../../handover/materials/joints.ts";
import type { Loop, Peg } from "../../model/plan.ts";
import { styleNamed } from "../style/plan-style.ts";
import { type Canvas, COSTS } from "./canvas.ts";
import { placesRound } from "./labels/place-labels.ts";
import { LETTERS } from "./lettering.ts";
import { inside, type PointMm } from "./plot.ts";
import { boxShape, disc, type LineMm, type Shape } from "./scene.ts";

const WIRE = styleNamed("boundary-wire").stroke!;
const GUIDE = styleNamed("guide-wire").stroke!;
const INK = "#000000";
const PAPER = "#ffffff";

/** A paired run on paper: two lines, apart so that they show as two. */
export const PAIR_LOOK = { outerMm: 1.2, gapMm: 0.5, colour: WIRE.colour } as const;

const ARROW_EVERY_MM = 40;
/** Length and half width of an arrow head. */
export interface HeadSize {
  readonly length: number;
  readonly half: number;
}
const ARROW_MM: HeadSize = { length: 2.6, half: 0.95 };
/** A span that carries an arrow is at least this long. */
const ARROW_SPAN_MM = 3.2;

export function drawWire(canvas: Canvas, loop: Loop): void {
  const { plot, clutter } = canvas;
  const wire = plot.seen(loop.wire, true);
  if (wire.length > 0) {
    canvas.used.add("boundary-wire");
    canvas.add("wire", { kind: "path", lines: wire, stroke: { ...WIRE, round: true } });
    for (const one of wire) clutter.addLine(one.points, one.closed === true, COSTS.wire);
  }
  const pairs = loop.pairedRuns.flatMap((run) => plot.seen(run.line));
  if (pairs.length > 0) {
    canvas.used.add("paired-run");
    canvas.add("wire", ...pairShapes(pairs));
  }
  for (const guide of loop.guideWires) {
    const lines = plot.seen(guide.line);
    if (lines.length === 0) continue;
    canvas.used.add("guide-wire");
    canvas.add("wire", { kind: "path", lines, stroke: GUIDE });
    for (const one of lines) clutter.addLine(one.points, false, COSTS.wire);
  }
  const arrows = arrowLines(wire, pairs);
  if (arrows.length > 0) {
    canvas.used.add("arrow");
    canvas.add("wire", { kind: "path", lines: arrows, fill: { colour: WIRE.colour } });
    for (const { points } of arrows) clutter.addLine(points, true, COSTS.marker);
  }
}

export function pairShapes(lines: readonly LineMm[]): Shape[] {
  const { outerMm, gapMm, colour } = PAIR_LOOK;
  return [
    { kind: "path", lines, stroke: { colour, widthMm: outerMm } },
    { kind: "path", lines, stroke: { colour: PAPER, widthMm: gapMm } },
  ];
}

/** Arrow heads along the wire, in the direction of laying, off the paired runs. */
function arrowLines(wire: readonly LineMm[], pairs: readonly LineMm[]): LineMm[] {
  const out: LineMm[] = [];
  for (const { points, closed } of wire) {
    const count = points.length / 2;
    let next = ARROW_EVERY_MM / 3;
    let along = 0;
    for (let i = 0; i < (closed ? count : count - 1); i++) {
      const j = (i + 1) % count;
      const [ax, ay, bx, by] = [
        points[2 * i]!,
        points[2 * i + 1]!,
        points[2 * j]!,
        points[2 * j + 1]!,
      ];
      const length = Math.hypot(bx - ax, by - ay);
      along += length;
      if (along < next || length < ARROW_SPAN_MM) continue;
      const [x, y] = [(ax + bx) / 2, (ay + by) / 2];
      if (pairs.some((pair) => distanceTo(pair, x, y) < 1)) continue;
      out.push(arrowHead(x, y, Math.atan2(by - ay, bx - ax)));
      next = along + ARROW_EVERY_MM;
    }
  }
  return out;
}

/** A triangle about a place, pointing along an angle (radians, y down). */
export function arrowHead(x: number, y: number, angle: number, size: HeadSize = ARROW_MM): LineMm {
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
  const { length, half } = size;
  const corner = (along: number, across: number): [number, number] => [
    x + along * cos - across * sin,
    y + along * sin + across * cos,
  ];
  return {
    points: [...corner(length / 2, 0), ...corner(-length / 2, half), ...corner(-length / 2, -half)],
    closed: true,
  };
}

function distanceTo({ points }: LineMm, x: number, y: number): number {
  let least = Infinity;
  for (let i = 0; i + 3 < points.length; i += 2) {
    const [ax, ay, bx, by] = [points[i]!, points[i + 1]!, points[i + 2]!, points[i + 3]!];
    const [dx, dy] = [bx - ax, by - ay];
    const share = Math.max(
      0,
      Math.min(1, ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy || 1)),
    );
    least = Math.min(least, Math.hypot(x - ax - share * dx, y - ay - share * dy));
  }
  return least;
}

/** One coming of the wire to a peg. */
interface Visit {
  readonly peg: Peg;
  readonly chainageM: number;
}

/** How far the wire turns at each peg, degrees, and the side of the lawn there on paper. */
function bearings(loop: Loop, canvas: Canvas): Map<Peg, { turnDeg: number; inward: number }> {
  const visits: Visit[] = loop.pegs
    .flatMap((peg) => [
      { peg, chainageM: peg.chainageM },
      ...(peg.secondChainageM === undefined ? [] : [{ peg, chainageM: peg.secondChainageM }]),
    ])
    .sort((a, b) => a.chainageM - b.chainageM);
  const out = new Map<Peg, { turnDeg: number; inward: number }>();
  const n = visits.length;
  visits.forEach(({ peg }, i) => {
    const before = canvas.plot.at(visits[(i + n - 1) % n]!.peg.atM);
    const here = canvas.plot.at(peg.atM);
    const after = canvas.plot.at(visits[(i + 1) % n]!.peg.atM);
    const into = Math.atan2(here[1] - before[1], here[0] - before[0]);
    const outOf = Math.atan2(after[1] - here[1], after[0] - here[0]);
    const turn = Math.abs(((((outOf - into) * 180) / Math.PI + 540) % 360) - 180);
    const [dx, dy] = [Math.cos(into) + Math.cos(outOf), Math.sin(into) + Math.sin(outOf)];
    // The lawn lies to the left of the wire; on paper y goes down.
    const inward = Math.atan2(-dx, dy);
    const earlier = out.get(peg);
    if (!earlier || earlier.turnDeg < turn) out.set(peg, { turnDeg: turn, inward });
  });
  return out;
}

/** Wire turns at least this much at a corner, degrees. */
const CORNER_DEG = 30;
/** Numbers along the wire are at least about this far apart. */
const NUMBERS_APART_MM = 9;
const EVERY = [1, 2, 5, 10, 20, 50, 100];

/** Which pegs carry numbers: every n-th, with n so that they stand apart at this scale. */
export function numberEvery(loops: readonly Loop[], canvas: Canvas): number {
  const lengthM = loops.reduce((sum, loop) => sum + loop.lengthM, 0);
  const pegs = loops.reduce((sum, loop) => sum + loop.pegs.length, 0);
  const spacingMm = canvas.plot.mm(lengthM / Math.max(1, pegs));
  return EVERY.find((every) => every * spacingMm >= NUMBERS_APART_MM) ?? EVERY.at(-1)!;
}

/** Width of a peg on paper: smaller where they stand close. */
export function pegSizeMm(loop: Loop, canvas: Canvas): number {
  const spacingMm = canvas.plot.mm(loop.lengthM / Math.max(1, loop.pegs.length));
  return Math.max(0.5, Math.min(1.2, 0.3 * spacingMm));
}

export function drawPegs(canvas: Canvas, loop: Loop, every: number): void {
  const { plot, clutter } = canvas;
  const sizeMm = pegSizeMm(loop, canvas);
  const about = bearings(loop, canvas);
  let lastCorner: PointMm | undefined;
  for (const peg of loop.pegs) {
    if (!plot.isSeen(peg.atM, 0.5)) continue;
    const [x, y] = plot.at(peg.atM);
    canvas.used.add(`peg-${peg.on === "bend" ? "bend" : peg.on === "pair" ? "pair" : "straight"}`);
    canvas.add("pegs", pegShape(peg.on, x, y, sizeMm));
    const r = sizeMm / 2;
    clutter.addBox({ left: x - r, right: x + r, top: y - r, bottom: y + r }, COSTS.marker);
    // The station's own label names its peg.
    if (peg.on === "station") continue;
    const { turnDeg, inward } = about.get(peg)!;
    const isNth = Number(peg.number.replace(/^\D+/, "")) % every === 0;
    const isCorner =
      turnDeg >= CORNER_DEG &&
      (!lastCorner || Math.hypot(lastCorner[0] - x, lastCorner[1] - y) > NUMBERS_APART_MM * 0.6);
    if (isCorner) lastCorner = [x, y];
    if (!isNth && !isCorner) continue;
    canvas.label({
      lines: [{ text: peg.number }],
      rank: isCorner ? 4 : 5,
      isNeeded: true,
      places: (width, height) =>
        placesRound([x, y], width, height, {
          clearMm: r + 0.4,
          towards: inward,
          leadersMm: [2.5, 5, 8],
        }),
    });
  }
  for (const guide of loop.guideWires) {
    for (const peg of guide.pegs) {
      if (!plot.isSeen(peg.atM, 0.5)) continue;
      const [x, y] = plot.at(peg.atM);
      canvas.used.add("guide-peg");
      const size = { length: 1.1 * sizeMm, half: 0.6 * sizeMm };
      canvas.add("pegs", {
        kind: "path",
        lines: [arrowHead(x, y, -Math.PI / 2, size)],
        fill: { colour: PAPER },
        stroke: { colour: GUIDE.colour, widthMm: 0.2 },
      });
      clutter.addBox(
        { left: x - 0.5, right: x + 0.5, top: y - 0.5, bottom: y + 0.5 },
        COSTS.marker,
      );
    }
  }
}

/** Where reels are joined: a crossed square over the peg, with its number. */
export function drawJoints(canvas: Canvas, loop: Loop, joints: readonly JointPeg[]): void {
  for (const { number, peg } of joints.filter((one) => one.loop === loop.name)) {
    const at = loop.pegs.find((one) => one.number === peg)?.atM;
    if (!at || !canvas.plot.isSeen(at, 1)) continue;
    const [x, y] = canvas.plot.at(at);
    canvas.used.add("joint");
    canvas.add("pegs", ...jointShapes(x, y));
    const box = { left: x - 1.1, right: x + 1.1, top: y - 1.1, bottom: y + 1.1 };
    canvas.clutter.addBox(box, COSTS.marker);
    canvas.label({
      lines: [{ text: number, bold: true }],
      rank: 3,
      isNeeded: true,
      places: (width, height) =>
        placesRound([x, y], width, height, { clearMm: 1.6, leadersMm: [3, 6, 10] }),
    });
  }
}

export function jointShapes(x: number, y: number): Shape[] {
  const stroke = { colour: INK, widthMm: 0.25 };
  const box = { left: x - 1.1, right: x + 1.1, top: y - 1.1, bottom: y + 1.1 };
  const cross = [
    { points: [box.left, box.top, box.right, box.bottom] },
    { points: [box.left, box.bottom, box.right, box.top] },
  ];
  return [
    boxShape(box, { fill: { colour: PAPER }, stroke }),
    { kind: "path", lines: cross, stroke },
  ];
}

export function pegShape(on: Peg["on"], x: number, y: number, sizeMm: number): Shape {
  const stroke = { colour: INK, widthMm: Math.min(0.25, sizeMm / 4) };
  const r = sizeMm / 2;
  if (on === "pair") {
    const d = r * 1.35;
    const points = [x - d, y, x, y - d, x + d, y, x, y + d];
    return { kind: "path", lines: [{ points, closed: true }], fill: { colour: PAPER }, stroke };
  }
  const isBend = on === "bend";
  return {
    kind: "path",
    lines: [disc(x, y, isBend ? r * 0.85 : r)],
    fill: { colour: isBend ? INK : PAPER },
    stroke,
  };
}

/**
 * The station: a plate on the wire, and an arrow in the direction in which the machine drives in.
 *
 * @param word what a station is called; undefined for small plans, where it is a square alone
 */
export function drawStation(canvas: Canvas, loop: Loop, word: string | undefined): void {
  const { plot, clutter } = canvas;
  const { station, name } = loop;
  const [x, y] = plot.at(station.atM);
  if (!inside([x, y], plot.window)) return;
  canvas.used.add("station");
  if (word === undefined) {
    const box = { left: x - 1, right: x + 1, top: y - 1, bottom: y + 1 };
    const stroke = { colour: INK, widthMm: 0.18 };
    canvas.add("stations", boxShape(box, { fill: { colour: WIRE.colour }, stroke }));
    return;
  }
  const angle = ((station.bearingDeg - 90) * Math.PI) / 180;
  canvas.add("stations", ...stationShapes(x, y, angle));
  clutter.addBox({ left: x - 2.4, right: x + 2.4, top: y - 2.4, bottom: y + 2.4 }, Infinity);
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
  clutter.addSegment([x - 9 * cos, y - 9 * sin, x, y], COSTS.marker);
  canvas.label({
    lines: [
      { text: `${word} ${name}`, sizeMm: LETTERS.normal, bold: true },
      ...loop.pegs.filter((peg) => peg.on === "station").map((peg) => ({ text: peg.number })),
    ],
    rank: 0,
    isNeeded: true,
    places: (width, height) =>
      placesRound([x, y], width, height, {
        clearMm: 3.4,
        leadersMm: [4, 8, 14, 20],
      }),
  });
}

export function stationShapes(x: number, y: number, angle: number): Shape[] {
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
  const at = (along: number, across: number): [number, number] => [
    x + along * cos - across * sin,
    y + along * sin + across * cos,
  ];
  const corners = [...at(-2, -1.5), ...at(2, -1.5), ...at(2, 1.5), ...at(-2, 1.5)];
  const stroke = { colour: INK, widthMm: 0.35 };
  return [
    {
      kind: "path",
      lines: [{ points: corners, closed: true }],
      fill: { colour: WIRE.colour },
      stroke,
    },
    {
      kind: "path",
      lines: [{ points: [...at(-9, 0), ...at(-4, 0)] }],
      stroke: { colour: INK, widthMm: 0.5 },
    },
    {
      kind: "path",
      lines: [arrowHead(...at(-3.4, 0), angle, { length: 2.4, half: 1 })],
      fill: { colour: INK },
    },
  ];
}
