/**
 * The drawings of a plan: sheets true to scale, with all that a crew needs on them, as shapes in
 * millimetres of paper. docs/drawings.md says what stands where.
 */
import type { JointPeg } from "../../handover/materials/joints.ts";
import { materialsOf } from "../../handover/materials/materials.ts";
import { pegTable } from "../../handover/setting-out/peg-table.ts";
import type { Finding } from "../../model/finding.ts";
import type { SheetRules } from "../../model/sheet.ts";
import type { Site } from "../../model/site.ts";
import { TOOL, VERSION } from "../../version.ts";
import type { PlanResult } from "../plan-result.ts";
import type { Summary } from "../summary.ts";
import { Canvas } from "./canvas.ts";
import { chooseLayout, type Layout, roomierLayouts, type Tile } from "./choose-layout.ts";
import { drawPassage, drawSetins, edgesOf, type Span, spansOf } from "./draw-dimensions.ts";
import { drawGround } from "./draw-ground.ts";
import { drawLoopNames, drawPlacedPoints, drawThingNames } from "./draw-names.ts";
import { drawJoints, drawPegs, drawStation, drawWire, numberEvery } from "./draw-wire.ts";
import { degreesText } from "./figures.ts";
import { type FilledColumn, flow, type Section, textWidth } from "./flow.ts";
import { drawNeighbours, drawTiles, keyPlanSection } from "./key-plan.ts";
import { legendSection } from "./legend.ts";
import { lettered, missingIn } from "./lettering.ts";
import type { Page } from "./page.ts";
import { Plot } from "./plot.ts";
import { boxShape, group, type ImageShape, type Shape, type Sheet, textsOf } from "./scene.ts";
import { alternativesSection, billSection, materialsSection, reelsSection } from "./schedules.ts";
import {
  cautionsSection,
  errorSection,
  jointsSection,
  loopsSection,
  passagesSection,
  pegSection,
  quantitiesSection,
  revisionsSection,
  setinsSection,
} from "./tables.ts";
import { frameShapes, titleBlockShapes } from "./title-block.ts";
import { englishWords, type SheetWords } from "./words.ts";

/** A georeferenced picture, ready to be laid beneath. */
export interface SitePicture {
  readonly name: string;
  readonly format: ImageShape["format"];
  readonly bytes: Uint8Array;
  /** Maps (u, v), 0 to 1 from its upper left corner, to metres in the site grid: `[a u + c v + e, b u + d v + f]`. */
  readonly toGrid: ImageShape["matrix"];
}

export interface SheetInput {
  readonly site: Site;
  readonly result: PlanResult;
  readonly summary: Summary;
  readonly rules: SheetRules;
  readonly picture?: SitePicture | undefined;
  /** Sections for pages of their own, before the peg table. */
  readonly appendix?: ((widthMm: number) => readonly Section[]) | undefined;
  /** English where left out. */
  readonly words?: SheetWords | undefined;
}

export interface Drawings {
  readonly sheets: readonly Sheet[];
  readonly scale: number;
  readonly paper: Page["paper"];
  readonly findings: readonly Finding[];
}

/** One page before it is known how many there are. */
interface Draft {
  readonly drawing: string;
  readonly scale: number | undefined;
  readonly shapes: readonly Shape[];
  readonly columns: readonly FilledColumn[];
}

/** Draws a plan. Same input, same sheets. */
export function drawSheets(input: SheetInput): Drawings {
  const { site, result, summary, rules, words = englishWords() } = input;
  const chosen = chooseLayout(site, result.plan, rules);
  const { scale, tiles } = chosen;
  const isSet = tiles.length > 1;
  const edges = edgesOf(site);
  const spans = result.plan.loops.map((loop) => spansOf(loop, edges));
  const width = textWidth(chosen.page.titleBlock);
  const { plan, quantities, ground, priceList } = result;
  const materials = materialsOf(plan, quantities, ground, priceList);
  // After a revision the joints in the ground, else those of the cut.
  const joints = result.joints ?? materials.joints;
  const pegRows = pegTable(plan, ground);
  const figures = [
    ...errorSection(summary, words, width),
    loopsSection(summary, words, width),
    quantitiesSection(summary, words, width),
    ...passagesSection(summary, words, width),
    ...jointsSection(joints, pegRows, words, width),
    setinsSection(summary, words, width),
    cautionsSection(summary, words, width),
    ...revisionsSection(rules.title ?? {}, words, width),
  ];
  const pegs = pegSection(pegRows, words, width);
  // The overview comes first; then the windows are numbered from 2 on.
  const firstNumber = isSet ? 2 : 1;
  const mainTile = isSet ? { ...tiles[0]!, centre: chosen.centre } : tiles[0]!;
  const mainScale = isSet ? chosen.overviewScale : scale;
  // Fewest columns beside the drawing that hold all figures; the most there are where none do.
  const roomier = roomierLayouts(site, result.plan, chosen);
  const first = drawWindow({ ...input, words }, chosen, mainTile, mainScale, !isSet, spans, joints);
  const legend = legendSection(first.used, first.every, words, width);
  const flows = (layout: Layout, more: readonly Section[]) =>
    flow([legend, ...figures, ...more], layout.page.panel, layout.page.columns, words.continued);
  const layout = roomier.find((one) => flows(one, []).length === 1) ?? roomier.at(-1)!;
  const { page } = layout;
  const main =
    page.panel.length === chosen.page.panel.length
      ? first
      : drawWindow({ ...input, words }, layout, mainTile, mainScale, !isSet, spans, joints);
  const schedules = [
    materialsSection(materials, plan.profile.wire.reelM, words, width),
    ...billSection(materials, words, width),
    reelsSection(materials, words, width),
    alternativesSection(materials, words, width),
  ];
  const flowed = flows(layout, [...schedules, ...(input.appendix?.(width) ?? []), ...pegs]);
  const unplaced = isSet ? [] : [...main.unplaced];
  const drafts: Draft[] = [
    {
      drawing: isSet ? words.overview : words.drawing,
      scale: mainScale,
      shapes: main.shapes,
      columns: flowed[0]!,
    },
  ];
  if (isSet) {
    tiles.forEach((tile, i) => {
      const drawn = drawWindow({ ...input, words }, layout, tile, scale, true, spans, joints);
      unplaced.push(...drawn.unplaced);
      const sections = [
        keyPlanSection(site, result.plan, tiles, i, firstNumber, words, width),
        legendSection(drawn.used, drawn.every, words, width),
        cautionsSection(summary, words, width),
      ];
      drafts.push({
        drawing: words.drawing,
        scale,
        shapes: drawn.shapes,
        columns: flow(sections, page.panel, page.columns, words.continued)[0]!,
      });
    });
  }
  for (const columns of flowed.slice(1)) {
    drafts.push({ drawing: words.notes, scale: undefined, shapes: [], columns });
  }
  const sheets = drafts.map((draft, i) =>
    finished({ ...input, words }, page, draft, i + 1, drafts.length),
  );
  return {
    sheets,
    scale,
    paper: page.paper,
    findings: findingsOf(sheets, unplaced, layout, rules),
  };
}

function drawWindow(
  { site, result, picture, words }: SheetInput & { readonly words: SheetWords },
  { page, tiles }: Layout,
  tile: Tile,
  scale: number,
  isDetail: boolean,
  spans: readonly (readonly Span[])[],
  joints: readonly JointPeg[],
) {
  const { plan, ground } = result;
  const plot = new Plot(page.window, scale, tile.centre);
  const canvas = new Canvas(plot, words);
  if (picture) canvas.add("picture", ...pictureShapes(plot, picture));
  drawGround(canvas, site, plan, ground, { isOverPicture: picture !== undefined });
  const seen = plan.loops.filter((loop) => plot.seen(loop.wire, true).length > 0);
  for (const loop of seen) drawWire(canvas, loop);
  const every = numberEvery(plan.loops, canvas);
  if (isDetail) {
    for (const loop of seen) {
      drawPegs(canvas, loop, every);
      drawJoints(canvas, loop, joints);
      drawSetins(canvas, loop, spans[plan.loops.indexOf(loop)]!);
    }
    if (seen.length > 0) canvas.used.add("numbers");
    for (const passage of plan.passages) drawPassage(canvas, passage);
    drawThingNames(canvas, site);
  }
  for (const loop of seen) drawStation(canvas, loop, isDetail ? words.stationName : undefined);
  drawPlacedPoints(canvas, site);
  drawLoopNames(canvas, plan, seen, isDetail);
  if (isDetail) drawNeighbours(canvas, tile, tiles);
  else drawTiles(canvas, tiles, 2);
  const { shapes, unplaced } = canvas.finish();
  return { shapes, unplaced, used: canvas.used, every };
}

/** The picture, and a veil of white over it so that lines and letters stand out. */
function pictureShapes(plot: Plot, { format, bytes, toGrid }: SitePicture): Shape[] {
  const [a, b, c, d, e, f] = toGrid;
  const [x0, y0] = plot.at([e, f]);
  const [x1, y1] = plot.at([e + a, f + b]);
  const [x2, y2] = plot.at([e + c, f + d]);
  const matrix = [x1 - x0, y1 - y0, x2 - x0, y2 - y0, x0, y0] as const;
  return [
    { kind: "image", format, bytes, matrix },
    boxShape(plot.window, { fill: { colour: "#ffffff", opacity: VEIL } }),
  ];
}

const VEIL = 0.45;

function finished(
  { site, result, summary, rules, picture, words }: SheetInput & { readonly words: SheetWords },
  page: Page,
  { drawing, scale, shapes, columns }: Draft,
  number: number,
  count: number,
): Sheet {
  const { grid } = result.plan;
  const { lat, lon } = degreesText(...grid.origin);
  const siteName = lettered(site.name);
  const notes = [
    words.madeBy(`${TOOL} ${VERSION}`, lettered(summary.profile_values.label)),
    words.grid(lat, lon),
    ...(picture ? [words.image(lettered(picture.name))] : []),
  ];
  const title = titleBlockShapes(page, {
    title: rules.title ?? {},
    siteName,
    drawing,
    scale,
    number,
    count,
    notes,
    words,
  });
  return {
    title: `${siteName}: ${drawing}`,
    widthMm: page.widthMm,
    heightMm: page.heightMm,
    items: [
      ...shapes,
      group(
        "text",
        columns.flatMap((column) => column.shapes),
      ),
      frameShapes(page, scale !== undefined),
      title,
    ],
  };
}

function findingsOf(
  sheets: readonly Sheet[],
  unplaced: readonly string[],
  { scale, isCoarser, tiles }: Layout,
  rules: SheetRules,
): Finding[] {
  const missing = new Map<string, string>();
  for (const { text } of sheets.flatMap((sheet) => textsOf(sheet.items))) {
    for (const char of missingIn(text)) if (!missing.has(char)) missing.set(char, text);
  }
  return [
    ...(isCoarser ? [coarser(rules.scale!, scale, tiles.length)] : []),
    ...(unplaced.length > 0 ? [leftOut(unplaced, scale)] : []),
    ...(missing.size > 0 ? [notInFont(missing)] : []),
  ];
}

function coarser(asked: number, scale: number, count: number): Finding {
  return {
    code: "SHEET_SCALE_COARSER",
    severity: "warning",
    message: `At 1:${asked} the site takes too many sheets; it is drawn at 1:${scale} on ${count}.`,
    remedy: "Take larger paper or a smaller scale, or plan the site in pieces.",
  };
}

function leftOut(texts: readonly string[], scale: number): Finding {
  const some = texts.slice(0, 5).join(", ");
  return {
    code: "SHEET_TEXTS_LEFT_OUT",
    severity: "info",
    message: `At 1:${scale} there is no room for ${texts.length} ${texts.length === 1 ? "text" : "texts"} on the drawing: ${some}${texts.length > 5 ? ", …" : ""}.`,
    remedy: "Draw at a larger scale, e.g. with --scale; every peg is in plan.geojson.",
  };
}

function notInFont(missing: ReadonlyMap<string, string>): Finding {
  const [first, where] = [...missing][0]!;
  return {
    code: "SHEET_LETTERS_MISSING",
    severity: "warning",
    message: `The lettering of the PDF has Latin, Greek and Cyrillic letters; ${missing.size} ${missing.size === 1 ? "character" : "characters"} of the names are not in it and show as boxes, e.g. ${first} in "${where}".`,
    remedy: "Give those features names in Latin letters, or use the SVG, which keeps them.",
  };
}
