/** Pages: frame, drawing window, columns for text. Borders after ISO 5457: 20 mm to file, else 10 mm. */
import { PAPERS, type PaperName } from "../../model/sheet.ts";
import type { BoxMm } from "./scene.ts";

const FILING_MM = 20;
const BORDER_MM = 10;

/** Columns side by side on each paper; the last one of a drawing holds legend and title block. */
const COLUMNS: Readonly<Record<PaperName, number>> = { A4: 2, A3: 4, A2: 5, A1: 7 };

/** On A4 the text stands below the drawing, this high. */
const PANEL_BELOW_MM = 108;

/** Height of the title block, and of scale bar and north arrow above it. */
const TITLE_MM = 56.5;
const SCALE_MM = 24.5;

export interface Page {
  readonly paper: PaperName;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly frame: BoxMm;
  /** Where the site is drawn. */
  readonly window: BoxMm;
  /** Columns for text beside the window, less the title block. */
  readonly panel: readonly BoxMm[];
  /** Columns for text of a page without a drawing, less the title block. */
  readonly columns: readonly BoxMm[];
  readonly titleBlock: BoxMm;
  /** Scale bar and north arrow, above the title block. */
  readonly scaleBlock: BoxMm;
}

/** As many columns as may stand beside a drawing. */
export const panelColumnsMax = (paper: PaperName): number =>
  paper === "A4" ? 1 : COLUMNS[paper] - 1;

/**
 * A4 stands upright, larger paper lies.
 *
 * @param beside columns for text beside the drawing
 */
export function pageOn(paper: PaperName, beside = 1): Page {
  const [short, long] = PAPERS[paper];
  const isUpright = paper === "A4";
  const [widthMm, heightMm] = isUpright ? [short, long] : [long, short];
  const frame: BoxMm = {
    left: FILING_MM,
    top: BORDER_MM,
    right: widthMm - BORDER_MM,
    bottom: heightMm - BORDER_MM,
  };
  const count = COLUMNS[paper];
  const columnMm = (frame.right - frame.left) / count;
  const column = (i: number, top: number, bottom: number): BoxMm => ({
    left: frame.left + i * columnMm,
    right: frame.left + (i + 1) * columnMm,
    top,
    bottom,
  });
  const last = count - 1;
  const titleTop = frame.bottom - TITLE_MM;
  const scaleTop = titleTop - SCALE_MM;
  const panelTop = isUpright ? frame.bottom - PANEL_BELOW_MM : frame.top;
  return {
    paper,
    widthMm,
    heightMm,
    frame,
    window: isUpright
      ? { ...frame, bottom: panelTop }
      : { ...frame, right: frame.right - beside * columnMm },
    panel: isUpright
      ? [column(0, panelTop, frame.bottom), column(1, panelTop, scaleTop)]
      : Array.from({ length: beside }, (_, i) =>
          i === beside - 1
            ? column(last, frame.top, scaleTop)
            : column(count - beside + i, frame.top, frame.bottom),
        ),
    columns: Array.from({ length: count }, (_, i) =>
      column(i, frame.top, i === last ? titleTop : frame.bottom),
    ),
    titleBlock: column(last, titleTop, frame.bottom),
    scaleBlock: column(last, scaleTop, titleTop),
  };
}
