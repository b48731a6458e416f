/**
 * What is known of a batch that is not finished: one line for each plot that is written, with where
 * both files ended after it and a hash of what was added. After a kill, or loss of power, the last
 * line that holds good says where to cut the files and to go on.
 */
import { createHash } from "node:crypto";
import type { Totals } from "./totals.ts";

export interface JournalLine {
  /** Plots written so far. */
  readonly plots: number;
  /** Lengths of the files after it, bytes. */
  readonly plans: number;
  readonly table: number;
  /** Of what this plot added to both. */
  readonly hash: string;
  readonly totals: Totals;
  /** True where everything up to here is known to be on the disk, not only in memory. */
  readonly synced?: true;
}

export function hashOf(plans: Uint8Array, table: Uint8Array): string {
  return createHash("sha256").update(plans).update("\0").update(table).digest("hex").slice(0, 24);
}

/** The lines that are whole, in order, each with where it ends in the file (bytes). */
export function journalLines(text: string): { line: JournalLine; end: number }[] {
  const lines: { line: JournalLine; end: number }[] = [];
  let from = 0;
  for (;;) {
    const to = text.indexOf("\n", from);
    if (to < 0) return lines;
    const line = lineOf(text.slice(from, to));
    const before = lines.at(-1)?.line;
    if (line === undefined || (before && line.plots < before.plots)) return lines;
    from = to + 1;
    lines.push({ line, end: from });
  }
}

function lineOf(text: string): JournalLine | undefined {
  try {
    const line = JSON.parse(text) as JournalLine;
    const isWhole = [line.plots, line.plans, line.table].every(Number.isSafeInteger);
    return isWhole && typeof line.totals === "object" ? line : undefined;
  } catch {
    return undefined;
  }
}

/**
 * The last line that holds good. Up to the last one that was synced all do; after it each is held
 * against what the files hold.
 *
 * @param bytesOf the bytes of a file from one place to another; fewer where it ends before
 * @returns undefined where nothing was written yet
 */
export async function lastGood(
  lines: readonly { readonly line: JournalLine; readonly end: number }[],
  bytesOf: (file: "plans" | "table", from: number, to: number) => Promise<Uint8Array>,
  start: { readonly plans: number; readonly table: number },
): Promise<{ line: JournalLine; end: number } | undefined> {
  let good = lines.filter((one) => one.line.synced).at(-1);
  let at = good?.line ?? start;
  for (const one of lines.slice(good === undefined ? 0 : lines.indexOf(good) + 1)) {
    const { line } = one;
    const plans = await bytesOf("plans", at.plans, line.plans);
    const table = await bytesOf("table", at.table, line.table);
    const isThere =
      plans.length === line.plans - at.plans && table.length === line.table - at.table;
    if (!isThere || hashOf(plans, table) !== line.hash) break;
    good = one;
    at = line;
  }
  return good;
}
