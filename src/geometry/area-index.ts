/** Finds the area that holds a point, in about log n plus one even-odd test. */
import Flatbush from "flatbush";
import type { AreaM } from "../model/geometry.ts";
import { areaContains, boxOf } from "./rings.ts";

export class AreaIndex {
  readonly #areas: readonly AreaM[];
  readonly #tree: Flatbush | undefined;

  constructor(areas: readonly AreaM[]) {
    this.#areas = areas;
    this.#tree = areas.length > 0 ? new Flatbush(areas.length) : undefined;
    for (const area of areas) {
      const box = boxOf(area.shell);
      this.#tree!.add(box.minE, box.minN, box.maxE, box.maxN);
    }
    this.#tree?.finish();
  }

  /** Number of the first area that holds the point, or -1. */
  locate(east: number, north: number): number {
    if (!this.#tree) return -1;
    const boxes = this.#tree.search(east, north, east, north).sort((a, b) => a - b);
    return boxes.find((i) => areaContains(this.#areas[i]!, east, north)) ?? -1;
  }
}
