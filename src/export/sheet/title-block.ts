/** Frame, title block (fields after ISO 7200), revisions, scale bar and north arrow. */
import type { SheetTitle } from "../../model/sheet.ts";
import { PADDING_MM, text } from "./flow.ts";
import { fitted, LETTERS, lettered, wrappedLines } from "./lettering.ts";
import type { Page } from "./page.ts";
import { type BoxMm, boxShape, group, line, type Shape } from "./scene.ts";
import type { SheetWords } from "./words.ts";

const INK = "#000000";
const FRAME = { colour: INK, widthMm: 0.7 };
const LINE = { colour: INK, widthMm: 0.25 };
const CAPTION_MM = 1.4 / 0.688;

export interface TitleFacts {
  readonly title: SheetTitle;
  readonly siteName: string;
  readonly drawing: string;
  /** Undefined on pages without a drawing. */
  readonly scale: number | undefined;
  readonly number: number;
  readonly count: number;
  /** Two sentences: what made it and for which machine; the grid. */
  readonly notes: readonly string[];
  readonly words: SheetWords;
}

/** Frame and the lines between window, columns and title block. */
export function frameShapes(page: Page, hasWindow: boolean): Shape {
  const { frame, window, titleBlock, scaleBlock } = page;
  const isBeside = window.bottom === frame.bottom;
  const divider = isBeside
    ? [window.right, frame.top, window.right, frame.bottom]
    : [frame.left, window.bottom, frame.right, window.bottom];
  const block = hasWindow ? scaleBlock : titleBlock;
  const tall = [block.left, block.top, block.left, frame.bottom];
  return group("frame", [
    boxShape(frame, { stroke: FRAME }),
    ...(hasWindow ? [line(divider, LINE)] : []),
    line(tall, LINE),
    line([block.left, block.top, block.right, block.top], LINE),
  ]);
}

/** Heights of the rows of the title block from the bottom up. */
const ROWS = {
  notes: 9.5,
  numbers: 8.5,
  people: 8.5,
  drawing: 9.5,
  client: 8.5,
  project: 12,
} as const;

export function titleBlockShapes(page: Page, facts: TitleFacts): Shape {
  const { titleBlock, scaleBlock, paper } = page;
  const { title, siteName, drawing, scale, number, count, notes, words } = facts;
  const { left, right, bottom } = titleBlock;
  const width = right - left;
  const shapes: Shape[] = [];
  let y = bottom;
  const row = (height: number, cells: readonly (readonly [string, string, number, Look?])[]) => {
    y -= height;
    shapes.push(line([left, y, right, y], LINE));
    let x = left;
    cells.forEach(([caption, content, share, look = {}], i) => {
      if (i > 0) shapes.push(line([x, y, x, y + height], LINE));
      shapes.push(...cell(caption, content, x, y, share * width, height, look));
      x += share * width;
    });
  };
  y -= ROWS.notes;
  shapes.push(line([left, y, right, y], LINE), ...noteLines(notes, left, y, width));
  row(ROWS.numbers, [
    [words.scale, scale === undefined ? words.noScale : words.scaleOn(scale, paper), 0.4],
    [words.drawingNumber, title.number ?? "", 0.35],
    [words.sheet, words.sheetOf(number, count), 0.25],
  ]);
  row(ROWS.people, [
    [words.drawnBy, title.drawnBy ?? "", 0.28],
    [words.checkedBy, title.checkedBy ?? "", 0.28],
    [words.date, title.date ?? "", 0.24],
    [words.revision, title.revision ?? "", 0.2],
  ]);
  row(ROWS.drawing, [[words.title, drawing, 1, { bold: true }]]);
  row(ROWS.client, [[words.client, title.client ?? "", 1]]);
  row(ROWS.project, [
    [words.project, title.project ?? siteName, 1, { bold: true, sizeMm: LETTERS.large }],
  ]);
  if (scale !== undefined) {
    shapes.push(...scaleBar(scaleBlock, scale, words), ...northArrow(scaleBlock));
  }
  return group("title", shapes);
}

interface Look {
  readonly bold?: boolean;
  readonly sizeMm?: number;
}

function cell(
  caption: string,
  content: string,
  x: number,
  y: number,
  width: number,
  height: number,
  { bold = false, sizeMm = LETTERS.normal }: Look,
): Shape[] {
  const room = width - PADDING_MM;
  const shown = lettered(content);
  // A name that is a little too long is set smaller before it is cut.
  const size = [sizeMm, LETTERS.normal, LETTERS.small].find(
    (one) => one <= sizeMm && wrappedLines(shown, room, one, bold).length <= 1,
  );
  const used = size ?? LETTERS.small;
  return [
    text(caption, x + PADDING_MM / 2, y + 2.4, { sizeMm: CAPTION_MM }),
    text(fitted(shown, room, used, bold), x + PADDING_MM / 2, y + height - 1.6, {
      sizeMm: used,
      bold,
    }),
  ];
}

function noteLines(notes: readonly string[], left: number, top: number, width: number): Shape[] {
  const lines = notes.flatMap((one) => wrappedLines(one, width - PADDING_MM, CAPTION_MM));
  return lines
    .slice(0, 4)
    .map((one, i) => text(one, left + PADDING_MM / 2, top + 2.2 + i * 2.2, { sizeMm: CAPTION_MM }));
}

/** Round lengths for a scale bar, metres. */
const BARS_M = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000];
const BAR_MAX_MM = 62;

/** The length that the scale bar shows: the longest round one that fits. */
export function barLengthM(scale: number): number {
  return BARS_M.filter((one) => (one * 1000) / scale <= BAR_MAX_MM).at(-1) ?? 1;
}

function scaleBar(free: BoxMm, scale: number, words: SheetWords): Shape[] {
  const lengthM = barLengthM(scale);
  const lengthMm = (lengthM * 1000) / scale;
  const left = free.left + PADDING_MM + 1;
  const y = free.bottom - 11;
  const parts = String(lengthM).startsWith("2") ? 4 : 5;
  const heightMm = 1.8;
  const shapes: Shape[] = [];
  for (let i = 0; i < parts; i++) {
    const x = left + (lengthMm * i) / parts;
    const box = { left: x, right: x + lengthMm / parts, top: y - heightMm, bottom: y };
    shapes.push(
      boxShape(box, {
        fill: { colour: i % 2 === 0 ? INK : "#ffffff" },
        stroke: { colour: INK, widthMm: 0.18 },
      }),
    );
  }
  const mark = (metres: number, x: number) =>
    text(`${metres}`, x, y - heightMm - 1, { anchor: "middle" });
  const end = text(`${lengthM} m`, left + lengthMm, y - heightMm - 1, {
    anchor: "middle",
  });
  return [
    ...shapes,
    mark(0, left),
    ...(lengthM >= 2 ? [mark(lengthM / 2, left + lengthMm / 2)] : []),
    end,
    text(`1:${scale}`, left, y - heightMm - 5.5, { sizeMm: LETTERS.large, bold: true }),
    text(
      words.print(words.number(lengthMm, Number.isInteger(Number(lengthMm.toFixed(1))) ? 0 : 1)),
      left,
      y + 4,
      {
        sizeMm: CAPTION_MM,
      },
    ),
  ];
}

function northArrow(free: BoxMm): Shape[] {
  const x = free.right - 12;
  const [top, bottom] = [free.top + 6.5, free.bottom - 5];
  const stroke = { colour: INK, widthMm: 0.25 };
  const notch = bottom - (bottom - top) * 0.22;
  return [
    {
      kind: "path",
      lines: [{ points: [x, top, x - 3, bottom, x, notch], closed: true }],
      fill: { colour: INK },
      stroke,
    },
    {
      kind: "path",
      lines: [{ points: [x, top, x + 3, bottom, x, notch], closed: true }],
      fill: { colour: "#ffffff" },
      stroke,
    },
    text("N", x, top - 1.2, { anchor: "middle", bold: true, sizeMm: LETTERS.normal }),
  ];
}
