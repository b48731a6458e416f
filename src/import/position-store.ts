import type { Geometry, Position } from "geojson";
import type { RawFeature } from "../model/features.ts";

/** Numbers set aside at a time: few for a small layer, twice as many each time after. */
const CHUNK_FIRST = 2 ** 9;
const CHUNK_MAX = 2 ** 17;
/** Geometries of fewer positions are no smaller when packed. */
const POSITIONS_MIN = 8;

type Line = readonly Position[];

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
      for (const position of line) for (const value of position) numbers[at++] = value;
    }
    const lengths = Uint32Array.from(lines, (line) => line.length);
    const { type } = geometry;
    return {
      ...feature,
      get geometry() {
        return unpacked(type, numbers, lengths, dimensions, perPolygon);
      },
    };
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

function unpacked(
  type: Geometry["type"],
  numbers: Float64Array,
  lengths: Uint32Array,
  dimensions: number,
  perPolygon: readonly number[] | undefined,
): Geometry {
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
