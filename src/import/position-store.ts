import type { Geometry, Position } from "geojson";
import type { RawFeature } from "../model/features.ts";

/** Numbers set aside at a time: few for a small layer, twice as many each time after. */
const CHUNK_FIRST = 2 ** 9;
const CHUNK_MAX = 2 ** 17;
/** Geometries of fewer positions are no smaller when packed. */
const POSITIONS_MIN = 8;

type Line = readonly Position[];

/** A feature whose positions are plain numbers. */
export interface Packed {
  /** Everything but the geometry. */
  readonly rest: Omit<RawFeature, "geometry">;
  readonly type: Geometry["type"];
  /** Positions one after the other. */
  readonly numbers: Float64Array;
  /** Numbers of a position: x and y first. */
  readonly dimensions: number;
  /** Positions of each line or ring. */
  readonly lengths: Uint32Array;
  /** Rings of each polygon of a MultiPolygon. */
  readonly perPolygon?: readonly number[] | undefined;
}

const packs = new WeakMap<RawFeature, Packed>();

/** The numbers of a packed feature, not to be changed; undefined where it is none. */
export function packedOf(feature: RawFeature): Packed | undefined {
  return packs.get(feature);
}

/** One getter for all: with one each, engines would keep a description of every single feature. */
const GEOMETRY: PropertyDescriptor & ThisType<RawFeature> = {
  enumerable: true,
  get() {
    return unpacked(packs.get(this)!);
  },
};

/**
 * A feature's packed form with numbers of its own, to be sent to another thread: a view would take
 * along all that is behind it. Undefined where it is not packed.
 */
export function packedCopyOf(feature: RawFeature): Packed | undefined {
  const packed = packs.get(feature);
  return packed && { ...packed, numbers: packed.numbers.slice(), lengths: packed.lengths.slice() };
}

/** The feature that a packed form stands for. */
export function featureOf(packed: Packed): RawFeature {
  const feature = { ...packed.rest } as RawFeature;
  packs.set(feature, packed);
  return Object.defineProperty(feature, "geometry", GEOMETRY);
}

/** Lines of a geometry in file order, and how many of them each polygon of a MultiPolygon has. */
function linesOf(
  geometry: Geometry,
): { lines: readonly Line[]; perPolygon?: number[] } | undefined {
  switch (geometry.type) {
    case "LineString":
    case "MultiPoint":
      return { lines: [geometry.coordinates] };
    case "Polygon":
    case "MultiLineString":
      return { lines: geometry.coordinates };
    case "MultiPolygon":
      return {
        lines: geometry.coordinates.flat(),
        perPolygon: geometry.coordinates.map((rings) => rings.length),
      };
    default:
      return undefined;
  }
}

/** Numbers of a position where all have as many; undefined where they differ. */
function dimensionsOf(lines: readonly Line[]): number | undefined {
  const dimensions = lines.find((line) => line.length > 0)?.[0]?.length;
  return lines.every((line) => line.every((position) => position.length === dimensions))
    ? dimensions
    : undefined;
}

/**
 * Holds the positions of many features as plain numbers: a quarter of the memory that they take as
 * lists of lists. A packed feature builds its geometry anew each time that it is asked for.
 */
export class PositionStore {
  #chunk = new Float64Array(0);
  #chunkSize = CHUNK_FIRST;
  #used = 0;

  /** The same feature, its geometry packed where that saves memory. */
  packed(feature: RawFeature): RawFeature {
    const { geometry } = feature;
    const held = geometry === null ? undefined : linesOf(geometry);
    if (geometry === null || held === undefined) return feature;
    const { lines, perPolygon } = held;
    const count = lines.reduce((sum, line) => sum + line.length, 0);
    const dimensions = count < POSITIONS_MIN ? undefined : dimensionsOf(lines);
    if (dimensions === undefined) return feature;
    const numbers = this.#reserve(count * dimensions);
    let at = 0;
    for (const line of lines) {
      for (const position of line) {
        for (let i = 0; i < dimensions; i++) numbers[at++] = position[i]!;
      }
    }
    const lengths = Uint32Array.from(lines, (line) => line.length);
    const { geometry: _, ...rest } = feature;
    return featureOf({ rest, type: geometry.type, numbers, dimensions, lengths, perPolygon });
  }

  /**
   * A packed feature with x and y of every position changed, the other numbers kept.
   * `write` puts the new x and y at an index of a list and the one after.
   */
  moved(
    packed: Packed,
    write: (x: number, y: number, into: Float64Array, index: number) => void,
  ): RawFeature {
    const { numbers: old, dimensions } = packed;
    const numbers = this.#reserve(old.length);
    if (dimensions > 2) numbers.set(old);
    for (let at = 0; at < old.length; at += dimensions) write(old[at]!, old[at + 1]!, numbers, at);
    return featureOf({ ...packed, numbers });
  }

  #reserve(count: number): Float64Array {
    if (this.#used + count > this.#chunk.length) {
      this.#chunk = new Float64Array(Math.max(this.#chunkSize, count));
      this.#chunkSize = Math.min(2 * this.#chunkSize, CHUNK_MAX);
      this.#used = 0;
    }
    const part = this.#chunk.subarray(this.#used, this.#used + count);
    this.#used += count;
    return part;
  }
}

function unpacked({ type, numbers, lengths, dimensions, perPolygon }: Packed): Geometry {
  const lines: Position[][] = [];
  let at = 0;
  for (const length of lengths) {
    const line: Position[] = new Array(length);
    for (let i = 0; i < length; i++, at += dimensions) {
      line[i] =
        dimensions === 2
          ? [numbers[at]!, numbers[at + 1]!]
          : Array.from(numbers.subarray(at, at + dimensions));
    }
    lines.push(line);
  }
  if (perPolygon === undefined) {
    const isSingle = type === "LineString" || type === "MultiPoint";
    return { type, coordinates: isSingle ? lines[0]! : lines } as Geometry;
  }
  let from = 0;
  const coordinates = perPolygon.map((rings) => {
    from += rings;
    return lines.slice(from - rings, from);
  });
  return { type: "MultiPolygon", coordinates };
}
