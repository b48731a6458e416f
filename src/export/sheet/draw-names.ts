/** Names on paper: loops in the middle of their lawn, things inside or beside them, placed points. */
import { areaContains, boxOf, interiorPoint } from "../../geometry/rings.ts";
import { SegmentIndex } from "../../geometry/segment-index.ts";
import type { AreaM, PointM } from "../../model/geometry.ts";
import type { Loop, Plan } from "../../model/plan.ts";
import type { PlacedPoint, Site, Thing } from "../../model/site.ts";
import { type Canvas, COSTS } from "./canvas.ts";
import { type LabelPlace, placesRound } from "./labels/place-labels.ts";
import { LETTERS, lettered } from "./lettering.ts";
import { boxOfPoints } from "./plot.ts";
import { disc, type Shape } from "./scene.ts";

const INK = "#000000";
const THIN = { colour: INK, widthMm: 0.25 };

/** Points of a lattice over a box, from which places for a label inside an area are taken. */
const LATTICE = 28;
const PLACES_MAX = 60;

/** Name, wire and lawn of each loop, where there is most room. */
export function drawLoopNames(
  canvas: Canvas,
  plan: Plan,
  loops: readonly Loop[],
  isDetail: boolean,
): void {
  const { words } = canvas;
  for (const loop of loops) {
    const parts = plan.mown.filter((one) => one.loop === loop.name);
    const areas = parts.flatMap((one) => one.areas);
    const places = roomiest(canvas, areas);
    if (places.length === 0) continue;
    const roomiestPlace = places[0]!;
    const mownM2 = parts.reduce((sum, one) => sum + one.areaM2, 0);
    canvas.label({
      lines: [
        ...(isDetail
          ? [
              { text: words.loopNamed(loop.name), sizeMm: LETTERS.large, bold: true },
              { text: words.loopWire(words.drawn(loop.lengthM)) },
              { text: words.loopMown(words.drawn(mownM2)) },
            ]
          : [{ text: loop.name, sizeMm: LETTERS.large, bold: true }]),
      ],
      rank: 1,
      isNeeded: true,
      places: (width, height) => [
        ...places,
        ...placesRound([roomiestPlace.x, roomiestPlace.y], width, height, {
          clearMm: 2,
          leadersMm: [6, 12, 20],
        }),
      ],
    });
  }
}

/** Places inside areas and the window, those with most room first. */
function roomiest({ plot }: Canvas, areas: readonly AreaM[]): LabelPlace[] {
  if (areas.length === 0) return [];
  const index = new SegmentIndex(areas.flatMap(({ shell, holes }) => [shell, ...holes]));
  const box = boxOf(...areas.map((area) => area.shell));
  const found: { place: LabelPlace; roomMm: number }[] = [];
  for (let i = 1; i < LATTICE; i++) {
    for (let j = 1; j < LATTICE; j++) {
      const point: PointM = [
        box.minE + ((box.maxE - box.minE) * i) / LATTICE,
        box.minN + ((box.maxN - box.minN) * j) / LATTICE,
      ];
      if (!plot.isSeen(point, 4)) continue;
      if (!areas.some((area) => areaContains(area, ...point))) continue;
      const near = index.nearest(...point, Infinity);
      const roomMm = plot.mm(near?.distanceM ?? 0);
      const [x, y] = plot.at(point);
      found.push({ place: { x, y, cost: -Math.min(roomMm, 40) / 4 }, roomMm });
    }
  }
  return found
    .sort((a, b) => b.roomMm - a.roomMm)
    .slice(0, PLACES_MAX)
    .map((one) => one.place);
}

/** A name that we gave for want of one: role and number. */
const isOurName = ({ role, name }: Thing) => new RegExp(`^${role} \\d+$`).test(name);

/** Smaller things get their name only where there is room close by, square millimetres. */
const NAMED_MM2 = 20;

export function drawThingNames(canvas: Canvas, site: Site): void {
  for (const thing of site.things) {
    if (isOurName(thing) || thing.areas.length === 0) continue;
    drawThingName(canvas, thing);
  }
}

function drawThingName(canvas: Canvas, thing: Thing): void {
  const { plot } = canvas;
  const largest = thing.areas.reduce((a, b) => (sizeOf(b) > sizeOf(a) ? b : a));
  const box = boxOfPoints(plot.points(largest.shell));
  const middle = interiorPoint(largest);
  if (!plot.isSeen(middle, 2)) return;
  const sizeMm2 = (box.right - box.left) * (box.bottom - box.top);
  const isTree = thing.role === "tree";
  const [x, y] = plot.at(middle);
  canvas.label({
    lines: [{ text: lettered(thing.name), sizeMm: LETTERS.small, bold: thing.role === "building" }],
    rank: isTree ? 8 : 2,
    isNeeded: !isTree && sizeMm2 >= NAMED_MM2,
    places: (width, height) => {
      const isWide = width < box.right - box.left - 1 && height < box.bottom - box.top - 1;
      return [
        { x, y, cost: isWide ? -12 : 1 },
        { x, y: y - 2.4, cost: isWide ? -11 : 2 },
        { x, y: y + 2.4, cost: isWide ? -11 : 2 },
        ...placesRound([x, y], width, height, {
          clearMm: 0.8,
          leadersMm: isTree ? [] : [4, 8, 12, 18],
        }),
      ];
    },
  });
}

const sizeOf = ({ shell }: AreaM) => {
  const box = boxOf(shell);
  return (box.maxE - box.minE) * (box.maxN - box.minN);
};

/** Outlets and control points. */
export function drawPlacedPoints(canvas: Canvas, site: Site): void {
  for (const outlet of site.outlets) drawPoint(canvas, outlet, "outlet");
  if (site.controls.length > CONTROLS_MAX) return;
  for (const control of site.controls) drawPoint(canvas, control, "control");
}

/** More control points than this are a survey of heights, not points to measure from. */
const CONTROLS_MAX = 40;

function drawPoint(canvas: Canvas, { name, atM }: PlacedPoint, kind: "outlet" | "control"): void {
  const { plot, clutter } = canvas;
  if (!plot.isSeen(atM, 1)) return;
  const [x, y] = plot.at(atM);
  canvas.used.add(kind);
  canvas.add("stations", ...pointShapes(kind, x, y));
  clutter.addBox({ left: x - 1.2, right: x + 1.2, top: y - 1.2, bottom: y + 1.2 }, COSTS.marker);
  canvas.label({
    lines: [{ text: lettered(name) }],
    rank: 5,
    isNeeded: kind === "outlet",
    places: (width, height) =>
      placesRound([x, y], width, height, { clearMm: 1.6, leadersMm: [3, 6] }),
  });
}

export function pointShapes(kind: "outlet" | "control", x: number, y: number): Shape[] {
  if (kind === "outlet") {
    const cross = [
      { points: [x - 0.8, y - 0.8, x + 0.8, y + 0.8] },
      { points: [x - 0.8, y + 0.8, x + 0.8, y - 0.8] },
    ];
    return [
      { kind: "path", lines: [disc(x, y, 1.2)], fill: { colour: "#ffffff" }, stroke: THIN },
      { kind: "path", lines: cross, stroke: THIN },
    ];
  }
  const points = [x - 1.2, y + 0.8, x + 1.2, y + 0.8, x, y - 1.3];
  return [
    { kind: "path", lines: [{ points, closed: true }], fill: { colour: "#ffffff" }, stroke: THIN },
    { kind: "path", lines: [disc(x, y, 0.25)], fill: { colour: INK } },
  ];
}
