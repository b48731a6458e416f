import type { Position } from "geojson";

/** An open line, and whatever belongs to it. */
export interface OpenLine<T> {
  readonly positions: readonly Position[];
  readonly of: T;
}

/** Lines that together close a ring, in order, and the closed ring. */
export interface JoinedRing<T> {
  readonly members: readonly T[];
  readonly ring: Position[];
}

interface End {
  readonly line: number;
  readonly atStart: boolean;
}

/**
 * Rings that open lines make where their ends meet within `tolerance`, plan only.
 *
 * Only where exactly two ends meet does one line go on into the other: at a fork nobody can tell,
 * and those lines stay as they are. Ends are found by a grid of cells, so that the work grows with
 * the number of lines.
 */
export function joinRings<T>(
  lines: readonly OpenLine<T>[],
  tolerance: number,
): { rings: JoinedRing<T>[]; rest: OpenLine<T>[] } {
  const usable = lines.map(({ positions }) => positions.length >= 2);
  const partner = partners(lines, usable, tolerance);
  const used = new Set<number>();
  const rings: JoinedRing<T>[] = [];
  for (let first = 0; first < lines.length; first++) {
    if (used.has(first) || !usable[first]) continue;
    const chain = chainFrom(first, partner);
    if (chain === undefined) continue;
    for (const { line } of chain) used.add(line);
    rings.push({
      members: chain.map(({ line }) => lines[line]!.of),
      ring: ringOf(chain, lines),
    });
  }
  return { rings, rest: lines.filter((_, index) => !used.has(index)) };
}

/** Key of an end in the partner table. */
function keyOf({ line, atStart }: End): number {
  return 2 * line + (atStart ? 0 : 1);
}

/** For each end the one other end that it meets. */
function partners<T>(
  lines: readonly OpenLine<T>[],
  usable: readonly boolean[],
  tolerance: number,
): Map<number, End> {
  const cells = new Map<string, { end: End; at: Position }[]>();
  const ends: { end: End; at: Position }[] = [];
  const cellOf = (value: number) => Math.floor(value / tolerance);
  for (const [line, { positions }] of lines.entries()) {
    if (!usable[line]) continue;
    for (const atStart of [true, false]) {
      const at = atStart ? positions[0]! : positions.at(-1)!;
      const entry = { end: { line, atStart }, at };
      const key = `${cellOf(at[0]!)} ${cellOf(at[1]!)}`;
      const cell = cells.get(key);
      if (cell) cell.push(entry);
      else cells.set(key, [entry]);
      ends.push(entry);
    }
  }
  const result = new Map<number, End>();
  for (const one of ends) {
    const [x, y] = [cellOf(one.at[0]!), cellOf(one.at[1]!)];
    const met: End[] = [];
    for (let dx = -1; dx <= 1; dx++) {
      for (let dy = -1; dy <= 1; dy++) {
        for (const other of cells.get(`${x + dx} ${y + dy}`) ?? []) {
          const gap = Math.hypot(other.at[0]! - one.at[0]!, other.at[1]! - one.at[1]!);
          if (other !== one && gap <= tolerance) met.push(other.end);
        }
      }
    }
    if (met.length === 1) result.set(keyOf(one.end), met[0]!);
  }
  return result;
}

/** The chain of lines that leaves the first one's end and comes back to its start. */
function chainFrom(
  first: number,
  partner: Map<number, End>,
): { line: number; forward: boolean }[] | undefined {
  const chain = [{ line: first, forward: true }];
  const seen = new Set([first]);
  for (;;) {
    const here = chain.at(-1)!;
    const next = partner.get(keyOf({ line: here.line, atStart: !here.forward }));
    if (next === undefined) return undefined;
    if (next.line === first) return next.atStart && chain.length > 1 ? chain : undefined;
    if (seen.has(next.line)) return undefined;
    seen.add(next.line);
    chain.push({ line: next.line, forward: next.atStart });
  }
}

function ringOf<T>(
  chain: readonly { line: number; forward: boolean }[],
  lines: readonly OpenLine<T>[],
): Position[] {
  const ring: Position[] = [];
  for (const { line, forward } of chain) {
    const { positions } = lines[line]!;
    const ordered = forward ? positions : [...positions].reverse();
    ring.push(...ordered.slice(0, -1));
  }
  ring.push(ring[0]!);
  return ring;
}
