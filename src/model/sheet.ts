/** What a user says of the drawings of a plan. */

/** Paper sizes of ISO 216, upright: width and height in millimetres. */
export const PAPERS = {
  A4: [210, 297],
  A3: [297, 420],
  A2: [420, 594],
  A1: [594, 841],
} as const satisfies Readonly<Record<string, readonly [number, number]>>;

export type PaperName = keyof typeof PAPERS;
export const PAPER_NAMES = Object.keys(PAPERS) as PaperName[];

/**
 * Scales of drawings, as the number behind `1:`. Those of ISO 5455 for reductions, and 250, 1250 and
 * 2500, which land surveyors use (common practice).
 */
export const SCALES = [20, 50, 100, 200, 250, 500, 1000, 1250, 2000, 2500, 5000, 10_000] as const;

/** One row of the list of revisions. */
export interface Revision {
  readonly revision: string;
  readonly date?: string | undefined;
  readonly by?: string | undefined;
  readonly text?: string | undefined;
}

/** What stands in the title block (fields after ISO 7200); what is left out stays blank, to be filled by hand. */
export interface SheetTitle {
  readonly project?: string | undefined;
  readonly client?: string | undefined;
  readonly number?: string | undefined;
  readonly drawnBy?: string | undefined;
  readonly checkedBy?: string | undefined;
  /** As it is to stand there; the clock is never asked. */
  readonly date?: string | undefined;
  readonly revision?: string | undefined;
  readonly revisions?: readonly Revision[] | undefined;
}

/** How a plan is to be drawn. What is left out is chosen. */
export interface SheetRules {
  readonly paper?: PaperName | undefined;
  /** One of `SCALES`. */
  readonly scale?: number | undefined;
  readonly title?: SheetTitle | undefined;
}
