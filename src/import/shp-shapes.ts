import type { Geometry, Position } from "geojson";
import type { Source } from "shapefile";
import { linesOf } from "../model/lines-of.ts";
import { groupRings } from "./rings.ts";
import { shapefileLibrary } from "./shapefile-library.ts";
import { extraValues } from "./shp-heights.ts";
import { type ShpRecord, type ShpStructure, soundCopy } from "./shp-records.ts";

/** One record's shape. */
export interface Shape {
  /** Null for a null shape, and for one without positions. */
  readonly geometry: Geometry | null;
  readonly measures?: readonly number[];
  /** Rings that wind the other way than the format says. */
  readonly contrary: number;
  /** True where the record has too few bytes for the heights of its type. */
  readonly lacksHeights: boolean;
}

const NULL_SHAPE: Shape = { geometry: null, contrary: 0, lacksHeights: false };
/** Shape types without their height and measure: 1 point, 3 line, 5 polygon, 8 multipoint. */
const POLYGON = 5;

/** How the library is told to read it: polygons as lines, so that rings come in file order. */
function parserOf(type: number): number {
  const base = type % 10;
  return base === POLYGON ? 3 : base;
}

/** Puts heights, and measures as a fourth number, into the positions in file order. */
function withExtras(geometry: Geometry, view: DataView, record: ShpRecord) {
  const { heights, measures, isShort } = extraValues(view, record.offset, record.bytes);
  if (heights !== undefined || measures !== undefined) {
    let place = 0;
    for (const line of partsOf(geometry)) {
      for (const position of line) {
        const height = heights?.[place] ?? Number.NaN;
        if (measures !== undefined) position.push(height, measures[place]!);
        else if (!Number.isNaN(height)) position.push(height);
        place++;
      }
    }
  }
  return { hasMeasures: measures !== undefined, isShort };
}

/** Positions of a geometry in its parts: points too. */
function partsOf(geometry: Geometry): Position[][] {
  if (geometry.type === "Point") return [[geometry.coordinates]];
  return geometry.type === "MultiPoint" ? [geometry.coordinates] : linesOf(geometry);
}

/** Takes the measures out of the positions again, now in the order of the finished geometry. */
function takeMeasures(geometry: Geometry): number[] {
  const measures: number[] = [];
  for (const line of partsOf(geometry)) {
    for (const position of line) {
      measures.push(position[3] ?? Number.NaN);
      position.length = Number.isNaN(position[2]) ? 2 : 3;
    }
  }
  return measures;
}

/** Rings in file order as polygons; lines and points as they are; null where nothing is in it. */
function asShape(
  geometry: Geometry,
  type: number,
): { geometry: Geometry | null; contrary: number } {
  const lines = partsOf(geometry).filter((line) => line.length > 0);
  if (lines.length === 0) return { geometry: null, contrary: 0 };
  if (type % 10 === POLYGON) return groupRings(lines);
  if (geometry.type !== "MultiLineString") return { geometry, contrary: 0 };
  return {
    geometry:
      lines.length === 1
        ? { type: "LineString", coordinates: lines[0]! }
        : { ...geometry, coordinates: lines },
    contrary: 0,
  };
}

/**
 * The shapes of all records, in file order, one for each. Damaged records come as null shapes; a
 * file that mixes types is read once for each kind of shape in it, since the library knows one a file.
 */
export async function* readShapes(
  shp: Uint8Array,
  structure: ShpStructure,
): AsyncGenerator<Shape, void> {
  const view = new DataView(shp.buffer, shp.byteOffset, shp.byteLength);
  const typeOf = (record: ShpRecord) =>
    record.state.kind === "sound" ? view.getInt32(record.offset, true) : 0;
  const kinds = new Set(structure.records.map((record) => parserOf(typeOf(record))));
  kinds.delete(0);
  const { openShp } = await shapefileLibrary();
  const sources = new Map<number, Source<Geometry | null>>();
  for (const kind of kinds) {
    const isOfKind = (record: ShpRecord) => parserOf(typeOf(record)) === kind;
    sources.set(kind, await openShp(soundCopy(shp, structure, kind, isOfKind)));
  }
  for (const record of structure.records) {
    const type = typeOf(record);
    let read: Geometry | null = null;
    for (const [kind, source] of sources) {
      const next = await source.read();
      if (kind === parserOf(type) && !next.done) read = next.value;
    }
    if (read === null) {
      yield NULL_SHAPE;
      continue;
    }
    const { hasMeasures, isShort } = withExtras(read, view, record);
    const shape = asShape(read, type);
    yield {
      ...shape,
      ...(hasMeasures && shape.geometry !== null ? { measures: takeMeasures(shape.geometry) } : {}),
      lacksHeights: isShort,
    };
  }
}
