import { vertexAt } from "../geometry/rings.ts";
import type { SourceRef } from "../model/finding.ts";
import type { AreaM } from "../model/geometry.ts";
import { counted, listed, type Note } from "./notes.ts";

/** The first of each set of equal shapes (same vertices to a millimetre, in any order) and one sort. */
export function withoutDuplicates<T extends { areas: readonly AreaM[]; source: SourceRef }>(
  items: readonly T[],
  what: string,
  note: Note,
  sortOf: (item: T) => string = () => "",
): T[] {
  const seen = new Map<string, T>();
  const left: T[] = [];
  const dropped: T[] = [];
  for (const item of items) {
    const key = `${sortOf(item)} ${fingerprint(item.areas)}`;
    if (seen.has(key)) {
      dropped.push(item);
      continue;
    }
    seen.set(key, item);
    left.push(item);
  }
  if (dropped.length > 0) {
    const first = dropped[0]!;
    const names = dropped.map((item) => item.source.feature ?? what);
    note({
      code: "DUPLICATE_FEATURES",
      severity: "warning",
      message: `${counted(dropped.length, what)} drawn a second time on the same place left out: ${listed(names)}.`,
      remedy: "Remove the copies from the file.",
      atM: vertexAt(first.areas[0]!.shell, 0),
      ...first.source,
    });
  }
  return left;
}

function fingerprint(areas: readonly AreaM[]): string {
  const vertices: string[] = [];
  for (const area of areas) {
    for (const ring of [area.shell, ...area.holes]) {
      for (let i = 0; i < ring.length; i += 2) {
        vertices.push(`${Math.round(ring[i]! * 1000)},${Math.round(ring[i + 1]! * 1000)}`);
      }
    }
  }
  return vertices.sort().join(" ");
}
