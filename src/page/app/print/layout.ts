/** Paper, window and sheets of a print, in millimetres and metres. No drawing. */
import { PAPERS, SCALES } from "../../../model/sheet.ts";

/** West, south, east, north, metres. */
export type Extent = readonly [number, number, number, number];

export const PRINT_PAPERS = ["A4", "A3", "A2"] as const;
export type PrintPaper = (typeof PRINT_PAPERS)[number];

export interface PrintWish {
  readonly paper: PrintPaper;
  readonly isLying: boolean;
  /** The number behind `1:`; undefined for the largest at which one sheet holds all. */
  readonly scale: number | undefined;
}

export interface PrintLayout {
  readonly paper: PrintPaper;
  readonly isLying: boolean;
  readonly scale: number;
  readonly widthMm: number;
  readonly heightMm: number;
  /** Of the map on each sheet. */
  readonly windowMm: readonly [width: number, height: number];
  /** Middles of the sheets, from north-west to south-east, metres. */
  readonly centres: readonly (readonly [number, number])[];
}

/** Round the paper; printers leave as much white. */
export const MARGIN_MM = 10;
/** Of the strip below the map, with the gap above it. */
export const STRIP_MM = 27;
/** Left free round the site, millimetres of paper. */
const ROOM_MM = 6;
/** Neighbouring sheets show this much of each other. */
const OVERLAP_MM = 12;
/** More sheets are not drawn. */
export const SHEETS_MAX = 30;

/**
 * @param extent what is to be seen
 * @param isUsed whether anything lies in a window; sheets without are left out
 */
export function printLayout(
  extent: Extent,
  { paper, isLying, scale: wanted }: PrintWish,
  isUsed: (window: Extent) => boolean = () => true,
): PrintLayout {
  const [short, long] = PAPERS[paper];
  const [widthMm, heightMm] = isLying ? [long, short] : [short, long];
  const windowMm = [widthMm - 2 * MARGIN_MM, heightMm - 2 * MARGIN_MM - STRIP_MM] as const;
  const [west, south, east, north] = extent;
  const size = [east - west, north - south] as const;
  const fits = (scale: number) =>
    size.every((lengthM, i) => (lengthM * 1000) / scale + 2 * ROOM_MM <= windowMm[i]!);
  const scale = wanted ?? SCALES.find(fits) ?? SCALES.at(-1)!;
  const centre = [(west + east) / 2, (south + north) / 2] as const;
  const counts = size.map((lengthM, i) => {
    const needMm = (lengthM * 1000) / scale + 2 * ROOM_MM;
    const stepMm = windowMm[i]! - OVERLAP_MM;
    return Math.max(1, Math.ceil((needMm - OVERLAP_MM) / stepMm - 1e-9));
  }) as [number, number];
  const halfM = windowMm.map((mm) => (mm * scale) / 2000) as [number, number];
  const stepM = windowMm.map((mm) => ((mm - OVERLAP_MM) * scale) / 1000) as [number, number];
  const centres: (readonly [number, number])[] = [];
  for (let row = 0; row < counts[1]; row++) {
    for (let column = 0; column < counts[0]; column++) {
      const e = centre[0] + (column - (counts[0] - 1) / 2) * stepM[0];
      const n = centre[1] - (row - (counts[1] - 1) / 2) * stepM[1];
      const window = [e - halfM[0], n - halfM[1], e + halfM[0], n + halfM[1]] as const;
      if (counts[0] * counts[1] === 1 || isUsed(window)) centres.push([e, n]);
    }
  }
  return { paper, isLying, scale, widthMm, heightMm, windowMm, centres };
}

/** The longest round length whose bar is at most so long on paper: metres, and millimetres of paper. */
export function printedBar(scale: number, longestMm = 60): { lengthM: number; mm: number } {
  const mostM = (longestMm * scale) / 1000;
  const tens = 10 ** Math.floor(Math.log10(mostM));
  const lengthM = [5, 2, 1].map((one) => one * tens).find((one) => one <= mostM) ?? tens;
  return { lengthM, mm: (lengthM * 1000) / scale };
}
