/** The whole site in small, with the windows of the sheets. */
import type { BoxM } from "../../geometry/rings.ts";
import type { Plan } from "../../model/plan.ts";
import type { Site } from "../../model/site.ts";
import { styleNamed } from "../style/plan-style.ts";
import { LAWN_EDGE } from "../style/site-style.ts";
import type { Canvas } from "./canvas.ts";
import type { Tile } from "./choose-layout.ts";
import { extentOf } from "./choose-layout.ts";
import { type Section, text } from "./flow.ts";
import { LETTERS } from "./lettering.ts";
import { boxesMeet, grown, Plot } from "./plot.ts";
import { type BoxMm, boxShape, group, type Shape } from "./scene.ts";
import type { SheetWords } from "./words.ts";

const HEIGHT_MAX_MM = 60;
const WINDOW = { colour: "#000000", widthMm: 0.18 };

/** @param current number of the window to be marked, from 0; none where undefined */
export function keyPlanSection(
  site: Site,
  plan: Plan,
  tiles: readonly Tile[],
  current: number | undefined,
  firstNumber: number,
  words: SheetWords,
  width: number,
): Section {
  const extent = grownTo(extentOf(site, plan), tiles);
  const [widthM, heightM] = [extent.maxE - extent.minE, extent.maxN - extent.minN];
  const mmPerM = Math.min(width / widthM, HEIGHT_MAX_MM / heightM);
  const heightMm = heightM * mmPerM;
  return {
    title: words.keyPlan,
    rows: [
      {
        heightMm: heightMm + 2,
        draw: (x, y) => {
          const box: BoxMm = { left: x, right: x + width, top: y, bottom: y + heightMm };
          const plot = new Plot(box, 1000 / mmPerM, [
            (extent.minE + extent.maxE) / 2,
            (extent.minN + extent.maxN) / 2,
          ]);
          return [group("key plan", keyShapes(plot, site, plan, tiles, current, firstNumber), box)];
        },
      },
    ],
  };
}

function grownTo(extent: BoxM, tiles: readonly Tile[]): BoxM {
  return {
    minE: Math.min(extent.minE, ...tiles.map((one) => one.box.minE)),
    minN: Math.min(extent.minN, ...tiles.map((one) => one.box.minN)),
    maxE: Math.max(extent.maxE, ...tiles.map((one) => one.box.maxE)),
    maxN: Math.max(extent.maxN, ...tiles.map((one) => one.box.maxN)),
  };
}

function keyShapes(
  plot: Plot,
  site: Site,
  plan: Plan,
  tiles: readonly Tile[],
  current: number | undefined,
  firstNumber: number,
): Shape[] {
  const lawns = plot.rings(site.lawns.map((lawn) => lawn.area));
  const wires = plan.loops.flatMap((loop) => plot.seen(loop.wire, true));
  const marked = current === undefined ? undefined : tiles[current];
  return [
    ...(marked
      ? [boxShape(tileBox(plot, marked), { fill: { colour: "#000000", opacity: 0.12 } })]
      : []),
    {
      kind: "path",
      lines: lawns,
      fill: styleNamed("mown-area").fill!,
      stroke: { ...LAWN_EDGE, widthMm: 0.13 },
    },
    {
      kind: "path",
      lines: wires,
      stroke: { colour: styleNamed("boundary-wire").stroke!.colour, widthMm: 0.2 },
    },
    ...tileShapes(plot, tiles, firstNumber, marked, LETTERS.small),
  ];
}

function tileBox(plot: Plot, { box }: Tile): BoxMm {
  const [left, top] = plot.at([box.minE, box.maxN]);
  const [right, bottom] = plot.at([box.maxE, box.minN]);
  return { left, top, right, bottom };
}

/** Outlines of the windows with the numbers of their sheets in the middle. */
function tileShapes(
  plot: Plot,
  tiles: readonly Tile[],
  firstNumber: number,
  marked: Tile | undefined,
  sizeMm: number,
): Shape[] {
  return tiles.flatMap((tile, i) => {
    const box = tileBox(plot, tile);
    return [
      boxShape(box, { stroke: tile === marked ? { ...WINDOW, widthMm: 0.5 } : WINDOW }),
      text(
        String(firstNumber + i),
        (box.left + box.right) / 2,
        (box.top + box.bottom) / 2 + sizeMm * 0.35,
        { anchor: "middle", bold: tile === marked, sizeMm },
      ),
    ];
  });
}

/** The windows of the sheets on the overview, each with its number in a corner. */
export function drawTiles(canvas: Canvas, tiles: readonly Tile[], firstNumber: number): void {
  tiles.forEach((tile, i) => {
    const box = tileBox(canvas.plot, tile);
    canvas.add("dimensions", boxShape(box, { stroke: WINDOW }));
    canvas.label({
      lines: [{ text: canvas.words.seeSheet(firstNumber + i), sizeMm: LETTERS.normal }],
      rank: 2,
      isNeeded: true,
      places: (width, height) => {
        const [dx, dy] = [width / 2 + 0.5, height / 2 + 0.5];
        return [
          { x: box.left + dx, y: box.top + dy, cost: 0 },
          { x: box.right - dx, y: box.top + dy, cost: 1 },
          { x: box.left + dx, y: box.bottom - dy, cost: 1 },
          { x: box.right - dx, y: box.bottom - dy, cost: 1 },
          { x: (box.left + box.right) / 2, y: (box.top + box.bottom) / 2, cost: 2 },
        ];
      },
    });
  });
}

/** Which sheet goes on where this one ends: at the edges of its window. */
export function drawNeighbours(canvas: Canvas, own: Tile, tiles: readonly Tile[]): void {
  const { plot } = canvas;
  const { left, top, right, bottom } = plot.window;
  tiles.forEach((tile, i) => {
    if (tile === own) return;
    const box = tileBox(plot, tile);
    const isBeside = box.top < (top + bottom) / 2 && box.bottom > (top + bottom) / 2;
    const isAbove = box.left < (left + right) / 2 && box.right > (left + right) / 2;
    if (isBeside === isAbove || !boxesMeet(box, grown(plot.window, 1))) return;
    canvas.label({
      lines: [{ text: canvas.words.seeSheet(FIRST_OF_SET + i), bold: true }],
      rank: 0,
      isNeeded: true,
      places: (width, height) => {
        const free = grown(plot.window, -1.5);
        return [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8].map((share, cost) =>
          isBeside
            ? {
                x: box.left < left ? free.left + width / 2 : free.right - width / 2,
                y: free.top + share * (free.bottom - free.top),
                cost,
              }
            : {
                x: free.left + share * (free.right - free.left),
                y: box.top < top ? free.top + height / 2 : free.bottom - height / 2,
                cost,
              },
        );
      },
    });
  });
}

/** Number of the first window's sheet: the overview comes before it. */
const FIRST_OF_SET = 2;
