import type { XY } from "./build-crs.ts";
import { FIT_CALLS, fitPatch, type Patch, type Transform, valueAt } from "./patch.ts";

/** A tile with fewer positions than this is not worth a patch. */
export const PATCH_POSITIONS_MIN = 3 * FIT_CALLS;
/** Side of a tile on the ground. */
export const TILE_M = 4000;
/** The same where coordinates are degrees. */
export const TILE_DEG = 0.04;

/** Tiles further out than this have no number of their own (and no place on earth). */
const INDEX_MAX = 2 ** 24;

/** Number of a tile; undefined where the position is in none. */
function tileKey(column: number, row: number): number | undefined {
  return Math.abs(column) < INDEX_MAX && Math.abs(row) < INDEX_MAX
    ? column * 2 * INDEX_MAX + row
    : undefined;
}

/** How many positions lie in each square tile of a plane. */
export class TileCounts {
  readonly #counts = new Map<number, { count: number }>();
  #column = Number.NaN;
  #row = Number.NaN;
  #last = { count: 0 };

  constructor(readonly side: number) {}

  add(x: number, y: number): void {
    const column = Math.floor(x / this.side);
    const row = Math.floor(y / this.side);
    if (column !== this.#column || row !== this.#row) {
      const key = tileKey(column, row);
      if (key === undefined) return;
      [this.#column, this.#row] = [column, row];
      this.#last = this.#counts.get(key) ?? { count: 0 };
      this.#counts.set(key, this.#last);
    }
    this.#last.count++;
  }

  isBusy(column: number, row: number): boolean {
    const key = tileKey(column, row);
    const tile = key === undefined ? undefined : this.#counts.get(key);
    return tile !== undefined && tile.count >= PATCH_POSITIONS_MIN;
  }
}

/**
 * A transformation that is computed by polynomials in tiles with many positions: some ten times
 * as fast as a projection, and within `tolerance` (in units of the result) of it. Each patch is tested
 * against the transformation; where it does not hold, and in tiles with few positions, the
 * transformation itself is used. What comes out depends on the position alone, not on the order:
 * corners that two outlines share stay shared, and rings stay closed.
 */
export class TiledTransform {
  readonly #patches = new Map<number, Patch | undefined>();
  readonly #pair = new Float64Array(2);
  #column = Number.NaN;
  #row = Number.NaN;
  #patch: Patch | undefined;

  constructor(
    readonly exact: Transform,
    readonly counts: TileCounts,
    readonly tolerance: number,
  ) {}

  /** The position transformed. */
  at(x: number, y: number): XY {
    this.write(x, y, this.#pair, 0);
    return [this.#pair[0]!, this.#pair[1]!];
  }

  /** The same, written to two places of a list. */
  write(x: number, y: number, into: Float64Array, index: number): void {
    const column = Math.floor(x / this.counts.side);
    const row = Math.floor(y / this.counts.side);
    if (column !== this.#column || row !== this.#row) {
      [this.#column, this.#row] = [column, row];
      this.#patch = this.#patchOf(column, row);
    }
    const patch = this.#patch;
    if (patch === undefined) {
      const pair = this.exact(x, y);
      into[index] = pair[0];
      into[index + 1] = pair[1];
      return;
    }
    const u = (x - patch.midX) * patch.perUnit;
    const v = (y - patch.midY) * patch.perUnit;
    into[index] = valueAt(patch.a, u, v);
    into[index + 1] = valueAt(patch.b, u, v);
  }

  /** How many tiles have a patch, and how many are busy but could have none. */
  get tiles(): { readonly patched: number; readonly refused: number } {
    const patched = [...this.#patches.values()].filter((patch) => patch !== undefined).length;
    return { patched, refused: this.#patches.size - patched };
  }

  #patchOf(column: number, row: number): Patch | undefined {
    const key = tileKey(column, row);
    if (key === undefined || !this.counts.isBusy(column, row)) return undefined;
    if (!this.#patches.has(key)) {
      const { side } = this.counts;
      const middle: XY = [(column + 0.5) * side, (row + 0.5) * side];
      this.#patches.set(key, fitPatch(this.exact, middle, side, this.tolerance));
    }
    return this.#patches.get(key);
  }
}
