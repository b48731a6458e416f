/** Sections of text and tables, flowing through columns and on to further pages. */
import { CAPITALS_EM, fitted, LETTERS, widthMm, wrappedLines } from "./lettering.ts";
import { type BoxMm, line, type Shape, type TextShape } from "./scene.ts";

/** One row, as high as it says; it is never cut. */
export interface Row {
  readonly heightMm: number;
  /** @param x left edge; @param y upper edge */
  draw(x: number, y: number): Shape[];
}

export interface Section {
  readonly title: string;
  /** Repeated where the section goes on in another column. */
  readonly head?: Row | undefined;
  /** Whether it begins a column of its own, not on the first page. */
  readonly isApart?: boolean | undefined;
  /** Whether it goes to the next column rather than be parted. */
  readonly isWhole?: boolean | undefined;
  readonly rows: readonly Row[];
}

/** Left and right of the text in a column. */
export const PADDING_MM = 3;
const HEADING_MM = 7;
const GAP_MM = 3;
export const LINE_MM = LETTERS.small * 1.25;

/** Width for text in a column. */
export const textWidth = ({ left, right }: BoxMm): number => right - left - 2 * PADDING_MM;

/** What stands in one column. */
export interface FilledColumn {
  readonly box: BoxMm;
  readonly shapes: readonly Shape[];
}

/**
 * Lets sections flow through columns.
 *
 * @param first columns of the first page
 * @param further columns of each page after it
 * @param continued title of a section that goes on in another column
 * @returns pages of columns; always the first page, even where nothing stands on it
 */
export function flow(
  sections: readonly Section[],
  first: readonly BoxMm[],
  further: readonly BoxMm[],
  continued: (title: string) => string,
): FilledColumn[][] {
  const pages: { box: BoxMm; shapes: Shape[] }[][] = [first.map((box) => ({ box, shapes: [] }))];
  let at = 0;
  let y = first[0]!.top + GAP_MM;
  const column = () => pages.at(-1)![at]!;
  const advance = () => {
    at++;
    if (at >= pages.at(-1)!.length) {
      pages.push(further.map((box) => ({ box, shapes: [] })));
      at = 0;
    }
    y = column().box.top + GAP_MM;
  };
  const room = () => column().box.bottom - y;
  const isFresh = () => column().shapes.length === 0;
  const put = (row: Row) => {
    column().shapes.push(...row.draw(column().box.left + PADDING_MM, y));
    y += row.heightMm;
  };
  for (const section of sections) {
    const { title, head, rows } = section;
    const begin = (isContinued: boolean) => {
      const whole = isContinued ? continued(title) : title;
      put(headingRow(whole, textWidth(column().box)));
      if (head) put(head);
    };
    const firstMm = HEADING_MM + (head?.heightMm ?? 0) + sum(rows.slice(0, 2));
    if (section.isApart) {
      if (pages.length === 1) at = Infinity;
      if (at === Infinity || !isFresh()) advance();
    }
    while (!isFresh() && room() < firstMm) advance();
    const wholeMm = HEADING_MM + (head?.heightMm ?? 0) + sum(rows);
    const next = pages.at(-1)![at + 1]?.box ?? further[0]!;
    const wouldFit = wholeMm <= next.bottom - next.top - GAP_MM;
    if (section.isWhole && !isFresh() && room() < wholeMm && wouldFit) advance();
    begin(false);
    rows.forEach((row, i) => {
      if (room() < row.heightMm && i > 0) {
        advance();
        begin(true);
      }
      put(row);
    });
    y += GAP_MM;
  }
  return pages;
}

const sum = (rows: readonly Row[]) => rows.reduce((total, row) => total + row.heightMm, 0);

/** A heading that is too long is set smaller, then cut. */
function headingRow(title: string, width: number): Row {
  const isLong = widthMm(title, LETTERS.normal, true) > width;
  const sizeMm = isLong ? LETTERS.small : LETTERS.normal;
  return {
    heightMm: HEADING_MM,
    draw: (x, y) => [
      text(fitted(title, width, sizeMm, true), x, y + 1 + LETTERS.normal * CAPITALS_EM, {
        sizeMm,
        bold: true,
      }),
    ],
  };
}

/** Text on its base line. */
export function text(
  content: string,
  x: number,
  y: number,
  look: Partial<Omit<TextShape, "kind" | "text" | "x" | "y">> = {},
): TextShape {
  return { kind: "text", text: content, x, y, sizeMm: LETTERS.small, ...look };
}

/** A paragraph as a row. */
export function paragraph(
  content: string,
  width: number,
  look: {
    readonly bold?: boolean;
    readonly bullet?: string;
    readonly sizeMm?: number;
    /** Room above it. */
    readonly beforeMm?: number;
  } = {},
): Row {
  const { bold = false, bullet, sizeMm = LETTERS.small, beforeMm = 0 } = look;
  const indent = bullet === undefined ? 0 : Math.max(3, widthMm(`${bullet} `, sizeMm));
  const lines = wrappedLines(content, width - indent, sizeMm, bold);
  const stepMm = sizeMm * 1.25;
  return {
    heightMm: beforeMm + lines.length * stepMm + 1,
    draw: (x, y) => {
      const base = y + beforeMm + sizeMm * CAPITALS_EM;
      return [
        ...(bullet === undefined ? [] : [text(bullet, x, base, { sizeMm })]),
        ...lines.map((one, i) => text(one, x + indent, base + i * stepMm, { sizeMm, bold })),
      ];
    },
  };
}

export interface TableColumn {
  readonly head: string;
  /** Share of the width. */
  readonly share: number;
  readonly align?: "left" | "right" | undefined;
}

const HAIRLINE = { colour: "#000000", widthMm: 0.13 };

/** A table: texts that are too long are cut with an ellipsis, in the last column wrapped. */
export function tableSection(
  title: string,
  columns: readonly TableColumn[],
  cells: readonly (readonly string[])[],
  width: number,
  options: { readonly isLastBold?: boolean } = {},
): Section {
  const shares = columns.reduce((total, one) => total + one.share, 0);
  const ends: number[] = [];
  for (const { share } of columns) ends.push((ends.at(-1) ?? 0) + (share / shares) * width);
  const row = (values: readonly string[], bold: boolean): Row => {
    const lines = values.map((value, i) => {
      const room = ends[i]! - (ends[i - 1] ?? 0) - 1;
      return columns[i]!.align !== "right" && i === values.length - 1
        ? wrappedLines(value, room, LETTERS.small, bold)
        : [fitted(value, room, LETTERS.small, bold)];
    });
    const count = Math.max(1, ...lines.map((one) => one.length));
    return {
      heightMm: count * LINE_MM + 1,
      draw: (x, y) => [
        ...lines.flatMap((list, i) =>
          list.map((one, k) => {
            const isRight = columns[i]!.align === "right";
            return text(
              one,
              x + (isRight ? ends[i]! - 1 : (ends[i - 1] ?? 0)),
              y + 0.5 + LETTERS.small * CAPITALS_EM + k * LINE_MM,
              { bold, ...(isRight && { anchor: "end" as const }) },
            );
          }),
        ),
        line([x, y + count * LINE_MM + 0.6, x + width, y + count * LINE_MM + 0.6], HAIRLINE),
      ],
    };
  };
  return {
    title,
    head: row(
      columns.map((one) => one.head),
      true,
    ),
    rows: cells.map((values, i) =>
      row(values, options.isLastBold === true && i === cells.length - 1),
    ),
  };
}
