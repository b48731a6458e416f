/** Finds the area that holds a point, in about log n plus one even-odd test. */
import Flatbush from "flatbush";
import type { AreaM } from "../model/geometry.ts";
import { areaContains, boxOf } from "./rings.ts";
import { RowedRings } from "./rowed-rings.ts";

/** An area that is asked more often than this has its edges sorted into rows first. */
const FEW_ASKED = 3;

export class AreaIndex {
  readonly #areas: readonly AreaM[];
  readonly #tree: Flatbush | undefined;
  readonly #asked: Uint8Array;
  readonly #rows: (RowedRings | undefined)[] = [];

  constructor(areas: readonly AreaM[]) {
    this.#areas = areas;
    this.#asked = new Uint8Array(areas.length);
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
    return boxes.find((i) => this.#holds(i, east, north)) ?? -1;
  }

  #holds(i: number, east: number, north: number): boolean {
    const area = this.#areas[i]!;
    if (this.#asked[i]! < FEW_ASKED) {
      this.#asked[i]!++;
      return areaContains(area, east, north);
    }
    this.#rows[i] ??= new RowedRings([area.shell, ...area.holes]);
    return this.#rows[i].contains(east, north);
  }
}
