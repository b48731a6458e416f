import type { Geometry, Position } from "geojson";

/**
 * Well-known binary to GeoJSON geometry: OGC 06-103r4 section 8.2 (types 1 to 7) with the Z and M of
 * ISO 13249-3 (1000, 2000, 3000 added) and of EWKB (high bits).
 *
 * Own code, since it must not trust what it reads: each count is checked against the bytes that are
 * left before anything is set aside for it, and nesting is bounded.
 */
export type WkbOutcome =
  | {
      readonly kind: "geometry";
      /** Null for an empty one. Positions have two numbers, or three with heights. */
      readonly geometry: Geometry | null;
      /** Measures in the order of the positions, where the shape has them. */
      readonly measures?: readonly number[];
    }
  /** A type that GeoJSON cannot hold, such as a curve; by name. */
  | { readonly kind: "type"; readonly name: string }
  | { readonly kind: "damaged"; readonly why: string };

const OTHER_TYPES: Readonly<Record<number, string>> = {
  8: "CircularString",
  9: "CompoundCurve",
  10: "CurvePolygon",
  11: "MultiCurve",
  12: "MultiSurface",
  13: "Curve",
  14: "Surface",
  15: "PolyhedralSurface",
  16: "TIN",
  17: "Triangle",
};
/** Collections in collections: more is no map data. */
const NESTING_MAX = 16;

class Damaged extends Error {}
class OtherType extends Error {}

class WkbReader {
  readonly #view: DataView;
  #at: number;
  #little = true;
  #hasZ = false;
  #hasM = false;
  readonly measures: number[] = [];

  constructor(bytes: Uint8Array, offset: number) {
    this.#view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
    this.#at = offset;
  }

  geometry(depth = 0): Geometry {
    if (depth > NESTING_MAX) throw new Damaged(`collections are nested ${depth} deep`);
    this.#need(5);
    this.#little = this.#view.getUint8(this.#at) === 1;
    const code = this.#view.getUint32(this.#at + 1, this.#little);
    this.#at += 5;
    const iso = code & 0x0fff_ffff;
    const dimensions = Math.floor(iso / 1000);
    this.#hasZ = dimensions === 1 || dimensions === 3 || (code & 0x8000_0000) !== 0;
    this.#hasM = dimensions === 2 || dimensions === 3 || (code & 0x4000_0000) !== 0;
    if (code & 0x2000_0000) {
      this.#need(4);
      this.#at += 4; // The reference system's number of EWKB.
    }
    if (dimensions > 3) throw new Damaged(`unknown geometry type ${code}`);
    return this.#body(iso % 1000, depth);
  }

  #body(type: number, depth: number): Geometry {
    switch (type) {
      case 1:
        return { type: "Point", coordinates: this.#position() };
      case 2:
        return { type: "LineString", coordinates: this.#positions() };
      case 3:
        return { type: "Polygon", coordinates: this.#rings() };
      case 4:
        return { type: "MultiPoint", coordinates: this.#members("Point", depth) as Position[] };
      case 5:
        return {
          type: "MultiLineString",
          coordinates: this.#members("LineString", depth) as Position[][],
        };
      case 6:
        return {
          type: "MultiPolygon",
          coordinates: this.#members("Polygon", depth) as Position[][][],
        };
      case 7: {
        const count = this.#count(5);
        const geometries: Geometry[] = [];
        for (let i = 0; i < count; i++) geometries.push(this.geometry(depth + 1));
        return { type: "GeometryCollection", geometries };
      }
      default:
        if (OTHER_TYPES[type] !== undefined) throw new OtherType(OTHER_TYPES[type]);
        throw new Damaged(`unknown geometry type ${type}`);
    }
  }

  #members(type: "Point" | "LineString" | "Polygon", depth: number): unknown[] {
    const count = this.#count(5);
    const members: unknown[] = [];
    for (let i = 0; i < count; i++) {
      const member = this.geometry(depth + 1);
      if (member.type !== type)
        throw new Damaged(`a ${member.type} stands where a ${type} belongs`);
      members.push(member.coordinates);
    }
    return members;
  }

  #rings(): Position[][] {
    const count = this.#count(4);
    const rings: Position[][] = [];
    for (let i = 0; i < count; i++) rings.push(this.#positions());
    return rings;
  }

  #positions(): Position[] {
    const count = this.#count(this.#positionBytes());
    const positions: Position[] = new Array(count);
    for (let i = 0; i < count; i++) positions[i] = this.#position();
    return positions;
  }

  #positionBytes(): number {
    return 16 + (this.#hasZ ? 8 : 0) + (this.#hasM ? 8 : 0);
  }

  #position(): Position {
    this.#need(this.#positionBytes());
    const view = this.#view;
    const little = this.#little;
    const x = view.getFloat64(this.#at, little);
    const y = view.getFloat64(this.#at + 8, little);
    this.#at += 16;
    const position: Position = [x, y];
    if (this.#hasZ) {
      const z = view.getFloat64(this.#at, little);
      if (Number.isFinite(z)) position.push(z);
      this.#at += 8;
    }
    if (this.#hasM) {
      this.measures.push(view.getFloat64(this.#at, little));
      this.#at += 8;
    }
    return position;
  }

  /** A count of things that take at least `bytesEach`. */
  #count(bytesEach: number): number {
    this.#need(4);
    const count = this.#view.getUint32(this.#at, this.#little);
    this.#at += 4;
    if (count * bytesEach > this.#view.byteLength - this.#at) {
      throw new Damaged(`it says that it has ${count} parts, more than its bytes can hold`);
    }
    return count;
  }

  #need(bytes: number): void {
    if (this.#at + bytes > this.#view.byteLength) throw new Damaged("it is cut short");
  }
}

/** Takes out the empty parts; an empty point has NaN coordinates. Null where nothing is left. */
function withoutEmpty(geometry: Geometry): Geometry | null {
  switch (geometry.type) {
    case "Point":
      return geometry.coordinates.slice(0, 2).every(Number.isNaN) ? null : geometry;
    case "GeometryCollection": {
      const geometries = geometry.geometries.map(withoutEmpty).filter((one) => one !== null);
      return geometries.length === 0 ? null : { ...geometry, geometries };
    }
    default: {
      const parts = (geometry.coordinates as unknown[][]).filter((part) => part.length > 0);
      if (parts.length === geometry.coordinates.length && parts.length > 0) return geometry;
      return parts.length === 0 ? null : ({ ...geometry, coordinates: parts } as Geometry);
    }
  }
}

/** Reads one geometry that begins at `offset`. Bytes after it are passed over. */
export function readWkb(bytes: Uint8Array, offset = 0): WkbOutcome {
  const reader = new WkbReader(bytes, offset);
  try {
    const geometry = withoutEmpty(reader.geometry());
    const { measures } = reader;
    return { kind: "geometry", geometry, ...(measures.length > 0 ? { measures } : {}) };
  } catch (error) {
    if (error instanceof OtherType) return { kind: "type", name: error.message };
    if (error instanceof Damaged) return { kind: "damaged", why: error.message };
    throw error;
  }
}
