/** GeoPackageBinary (OGC 12-128r18, clause 2.1.3): header, envelope, then WKB (OGC 06-103r4, section 8.2). */
import type { Geometry, Position } from "geojson";

const TYPES: Readonly<Record<Geometry["type"], number>> = {
  Point: 1,
  LineString: 2,
  Polygon: 3,
  MultiPoint: 4,
  MultiLineString: 5,
  MultiPolygon: 6,
  GeometryCollection: 7,
};

/** Flags: little-endian, and an envelope of x and y where the shape has more than a point. */
const FLAGS_PLAIN = 0b0000_0001;
const FLAGS_ENVELOPE = 0b0000_0011;

class Bytes {
  #bytes = new Uint8Array(1024);
  #view = new DataView(this.#bytes.buffer);
  #at = 0;

  #need(count: number): void {
    if (this.#at + count <= this.#bytes.length) return;
    const larger = new Uint8Array(2 * this.#bytes.length + count);
    larger.set(this.#bytes);
    this.#bytes = larger;
    this.#view = new DataView(larger.buffer);
  }

  byte(...values: readonly number[]): void {
    this.#need(values.length);
    for (const value of values) this.#bytes[this.#at++] = value;
  }

  int(value: number): void {
    this.#need(4);
    this.#view.setInt32(this.#at, value, true);
    this.#at += 4;
  }

  double(value: number): void {
    this.#need(8);
    this.#view.setFloat64(this.#at, value, true);
    this.#at += 8;
  }

  get all(): Uint8Array {
    return this.#bytes.slice(0, this.#at);
  }
}

export function geometryBlob(geometry: Geometry, srsId: number): Uint8Array {
  const bytes = new Bytes();
  const isPoint = geometry.type === "Point";
  bytes.byte(0x47, 0x50, 0, isPoint ? FLAGS_PLAIN : FLAGS_ENVELOPE);
  bytes.int(srsId);
  if (!isPoint) {
    const [minX, minY, maxX, maxY] = boxOfGeometry(geometry);
    for (const value of [minX, maxX, minY, maxY]) bytes.double(value);
  }
  writeWkb(bytes, geometry);
  return bytes.all;
}

/** Least and greatest x and y. */
export function boxOfGeometry(geometry: Geometry): [number, number, number, number] {
  const box: [number, number, number, number] = [Infinity, Infinity, -Infinity, -Infinity];
  const add = (nested: readonly unknown[]): void => {
    if (typeof nested[0] !== "number") {
      for (const part of nested) add(part as readonly unknown[]);
      return;
    }
    const [x, y] = nested as readonly number[];
    box[0] = Math.min(box[0], x!);
    box[1] = Math.min(box[1], y!);
    box[2] = Math.max(box[2], x!);
    box[3] = Math.max(box[3], y!);
  };
  const visit = (one: Geometry): void => {
    if (one.type === "GeometryCollection") one.geometries.forEach(visit);
    else add(one.coordinates);
  };
  visit(geometry);
  return box;
}

function writeWkb(bytes: Bytes, geometry: Geometry): void {
  bytes.byte(1);
  bytes.int(TYPES[geometry.type]);
  const position = ([x, y]: Position) => {
    bytes.double(x!);
    bytes.double(y!);
  };
  const list = <T>(parts: readonly T[], each: (part: T) => void) => {
    bytes.int(parts.length);
    parts.forEach(each);
  };
  const line = (positions: readonly Position[]) => list(positions, position);
  switch (geometry.type) {
    case "Point":
      position(geometry.coordinates);
      break;
    case "LineString":
      line(geometry.coordinates);
      break;
    case "Polygon":
      list(geometry.coordinates, line);
      break;
    case "GeometryCollection":
      list(geometry.geometries, (one) => writeWkb(bytes, one));
      break;
    default: {
      const type = geometry.type.slice("Multi".length) as "Point" | "LineString" | "Polygon";
      const members = geometry.coordinates as readonly unknown[];
      list(members, (coordinates) => writeWkb(bytes, { type, coordinates } as unknown as Geometry));
    }
  }
}
