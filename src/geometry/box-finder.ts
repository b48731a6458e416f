import Flatbush from "flatbush";
import type { AreaM } from "../model/geometry.ts";
import { boxOf } from "./rings.ts";

/** Finds the numbers, in order, of the groups of areas whose box meets the box of some areas. */
export type BoxFinder = (areas: readonly AreaM[]) => number[];

/** Indexes groups of areas by their boxes; empty groups are never found. */
export function boxFinder(groups: readonly (readonly AreaM[])[]): BoxFinder {
  const filled = groups.flatMap((areas, number) => (areas.length > 0 ? [number] : []));
  if (filled.length === 0) return () => [];
  const index = new Flatbush(filled.length);
  for (const number of filled) {
    const box = boxOf(...groups[number]!.map((area) => area.shell));
    index.add(box.minE, box.minN, box.maxE, box.maxN);
  }
  index.finish();
  return (areas) => {
    if (areas.length === 0) return [];
    const box = boxOf(...areas.map((area) => area.shell));
    return index
      .search(box.minE, box.minN, box.maxE, box.maxN)
      .map((i) => filled[i]!)
      .sort((a, b) => a - b);
  };
}
