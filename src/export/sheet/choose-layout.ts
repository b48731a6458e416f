/** Which paper, which scale, and which windows of the site, where the user does not say all of it. */
import { type BoxM, boxOf } from "../../geometry/rings.ts";
import type { PointM } from "../../model/geometry.ts";
import type { Plan } from "../../model/plan.ts";
import { PAPER_NAMES, type PaperName, SCALES, type SheetRules } from "../../model/sheet.ts";
import type { Site } from "../../model/site.ts";
import { type Page, pageOn, panelColumnsMax } from "./page.ts";

/** Room round what is drawn, for names and numbers, millimetres of paper on each side. */
const MARGIN_MM = 9;
/** Windows of neighbouring sheets share this much, millimetres of paper. */
const OVERLAP_MM = 12;
/** Pegs a metre apart can be told apart and numbered down to this scale. */
const SMALLEST_FOR_PEGS = 250;
/** So many sheets at most are chosen without being asked for. */
const SHEETS_MAX = 12;
/** More sheets than this are not drawn whatever is asked for. */
const SHEETS_LIMIT = 150;

export interface Tile {
  readonly centre: PointM;
  /** What its window shows, metres in the site grid. */
  readonly box: BoxM;
}

export interface Layout {
  readonly page: Page;
  readonly scale: number;
  /** Windows of the sheets; one alone shows the whole site. */
  readonly tiles: readonly Tile[];
  /** Scale of the overview, where there are several. */
  readonly overviewScale: number;
  readonly centre: PointM;
  /** Whether the scale that was asked for gave too many sheets, and a smaller one was taken. */
  readonly isCoarser: boolean;
}

/** Everything that has to be on the drawings. */
export function extentOf(site: Site, plan: Plan): BoxM {
  const points = [...site.stations, ...site.outlets].map(({ atM }) => Float64Array.from(atM));
  return boxOf(
    ...site.lawns.map((lawn) => lawn.area.shell),
    ...plan.loops.map((loop) => loop.wire),
    ...points,
  );
}

/**
 * The layout: of the choices that are left, the first of these.
 *
 * One sheet on which pegs can be numbered (A3 first, then larger paper, each at the largest scale
 * that fits); some sheets at that scale; then ever smaller scales.
 */
export function chooseLayout(site: Site, plan: Plan, rules: SheetRules): Layout {
  const extent = extentOf(site, plan);
  const centre: PointM = [(extent.minE + extent.maxE) / 2, (extent.minN + extent.maxN) / 2];
  const papers: readonly PaperName[] =
    rules.paper === undefined ? PAPER_NAMES.filter((one) => one !== "A4") : [rules.paper];
  const scales: readonly number[] = rules.scale === undefined ? SCALES : [rules.scale];
  const pages = papers.map((one) => pageOn(one));
  const laid = (page: Page, scale: number, tiles: readonly Tile[], isCoarser = false): Layout => ({
    page,
    scale,
    tiles,
    overviewScale: SCALES.find((one) => isOne(page, one, extent)) ?? SCALES.at(-1)!,
    centre,
    isCoarser,
  });
  const whole: Tile = { centre, box: extent };
  const isForPegs = (scale: number) => rules.scale !== undefined || scale <= SMALLEST_FOR_PEGS;
  for (const page of pages) {
    const scale = scales.find((one) => isForPegs(one) && isOne(page, one, extent));
    if (scale !== undefined) return laid(page, scale, [whole]);
  }
  const fromPegs = scales.filter((one) => rules.scale !== undefined || one >= SMALLEST_FOR_PEGS);
  const most = rules.scale === undefined ? SHEETS_MAX : SHEETS_LIMIT;
  for (const scale of fromPegs) {
    for (const page of pages) {
      if (isOne(page, scale, extent)) return laid(page, scale, [whole]);
      const tiles = tilesOf(page, scale, extent, site, plan);
      if (tiles.length <= most) return laid(page, scale, tiles);
    }
  }
  // Asked for more than is sensible: the next smaller scale that is.
  const page = pages.at(-1)!;
  for (const scale of SCALES.filter((one) => one > scales.at(-1)!)) {
    if (isOne(page, scale, extent)) return laid(page, scale, [whole], true);
    const tiles = tilesOf(page, scale, extent, site, plan);
    if (tiles.length <= SHEETS_LIMIT) return laid(page, scale, tiles, true);
  }
  return laid(page, SCALES.at(-1)!, [whole], true);
}

/**
 * The same with more columns for text beside the drawing, where the window has room to spare: one
 * layout for each number of columns, fewest first. One alone where there are several sheets.
 */
export function roomierLayouts(site: Site, plan: Plan, layout: Layout): Layout[] {
  if (layout.tiles.length > 1) return [layout];
  const { paper } = layout.page;
  const extent = extentOf(site, plan);
  const pages = Array.from({ length: panelColumnsMax(paper) }, (_, i) => pageOn(paper, i + 1));
  const fit = pages.filter((page, i) => i === 0 || isOne(page, layout.scale, extent));
  return fit.map((page) => ({ ...layout, page }));
}

/** What a window shows at a scale, metres. */
function windowM({ window }: Page, scale: number): { width: number; height: number } {
  return {
    width: ((window.right - window.left) * scale) / 1000,
    height: ((window.bottom - window.top) * scale) / 1000,
  };
}

function isOne(page: Page, scale: number, extent: BoxM): boolean {
  const { width, height } = windowM(page, scale);
  const marginM = (2 * MARGIN_MM * scale) / 1000;
  return (
    extent.maxE - extent.minE + marginM <= width && extent.maxN - extent.minN + marginM <= height
  );
}

/** Windows row by row from the north west, without those that show no lawn and no wire. */
function tilesOf(page: Page, scale: number, extent: BoxM, site: Site, plan: Plan): Tile[] {
  const { width, height } = windowM(page, scale);
  const overlapM = (OVERLAP_MM * scale) / 1000;
  const marginM = (2 * MARGIN_MM * scale) / 1000;
  const steps = (size: number, window: number) =>
    Math.max(1, Math.ceil((size + marginM - overlapM) / (window - overlapM)));
  const columns = steps(extent.maxE - extent.minE, width);
  const rows = steps(extent.maxN - extent.minN, height);
  if (columns * rows > 4 * SHEETS_LIMIT) return Array(columns * rows);
  const midE = (extent.minE + extent.maxE) / 2;
  const midN = (extent.minN + extent.maxN) / 2;
  const rings = [
    ...site.lawns.map((lawn) => lawn.area.shell),
    ...plan.loops.map((loop) => loop.wire),
  ];
  const tiles: Tile[] = [];
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const centre: PointM = [
        midE + (column - (columns - 1) / 2) * (width - overlapM),
        midN - (row - (rows - 1) / 2) * (height - overlapM),
      ];
      const box: BoxM = {
        minE: centre[0] - width / 2,
        maxE: centre[0] + width / 2,
        minN: centre[1] - height / 2,
        maxN: centre[1] + height / 2,
      };
      if (rings.some((ring) => isIn(ring, box))) tiles.push({ centre, box });
    }
  }
  return tiles;
}

/** Whether an edge of a ring comes into a box. */
function isIn(ring: Float64Array, { minE, minN, maxE, maxN }: BoxM): boolean {
  for (let i = 0, j = ring.length - 2; i < ring.length; j = i, i += 2) {
    if (
      Math.max(ring[i]!, ring[j]!) >= minE &&
      Math.min(ring[i]!, ring[j]!) <= maxE &&
      Math.max(ring[i + 1]!, ring[j + 1]!) >= minN &&
      Math.min(ring[i + 1]!, ring[j + 1]!) <= maxN
    )
      return true;
  }
  return false;
}
