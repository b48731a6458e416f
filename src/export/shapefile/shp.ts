/**
 * Geometry files of a shapefile: `.shp` and `.shx`.
 * Source: ESRI Shapefile Technical Description, July 1998, pages 2 to 16 and 23 to 24.
 */
import type { Geometry, Position } from "geojson";
import { linesOf } from "../../model/lines-of.ts";
import type { ShapeOfKind } from "../../model/plan-fields.ts";
import { polygonsOf } from "../exchange/drawn-plan.ts";

const FILE_CODE = 9994;
const VERSION = 1000;
const HEADER_BYTES = 100;
const RECORD_HEADER_BYTES = 8;
const TYPES: Readonly<Record<ShapeOfKind, number>> = { point: 1, line: 3, area: 5 };
const NULL_SHAPE = 0;

type Box = [minX: number, minY: number, maxX: number, maxY: number];

/** Both files; a geometry of null becomes a null shape. */
export function shpAndShx(
  shape: ShapeOfKind,
  geometries: readonly (Geometry | null)[],
): { shp: Uint8Array; shx: Uint8Array } {
  const type = TYPES[shape];
  const records = geometries.map((geometry) => record(geometry, type));
  const box = boxOf(geometries.flatMap((one) => (one === null ? [] : positionsOf(one))));
  const shpBytes = records.reduce((sum, one) => sum + RECORD_HEADER_BYTES + one.length, 0);
  const shp = new Uint8Array(HEADER_BYTES + shpBytes);
  const shx = new Uint8Array(HEADER_BYTES + 8 * records.length);
  writeHeader(shp, type, box);
  writeHeader(shx, type, box);
  const [shpView, shxView] = [new DataView(shp.buffer), new DataView(shx.buffer)];
  let at = HEADER_BYTES;
  for (const [index, content] of records.entries()) {
    shpView.setInt32(at, index + 1);
    shpView.setInt32(at + 4, content.length / 2);
    shp.set(content, at + RECORD_HEADER_BYTES);
    // Offsets and lengths count words of 16 bits.
    shxView.setInt32(HEADER_BYTES + 8 * index, at / 2);
    shxView.setInt32(HEADER_BYTES + 8 * index + 4, content.length / 2);
    at += RECORD_HEADER_BYTES + content.length;
  }
  return { shp, shx };
}

function writeHeader(file: Uint8Array, type: number, box: Box): void {
  const view = new DataView(file.buffer);
  view.setInt32(0, FILE_CODE);
  view.setInt32(24, file.length / 2);
  view.setInt32(28, VERSION, true);
  view.setInt32(32, type, true);
  for (const [i, value] of box.entries()) view.setFloat64(36 + 8 * i, value, true);
}

function record(geometry: Geometry | null, type: number): Uint8Array {
  if (geometry === null) {
    const content = new Uint8Array(4);
    new DataView(content.buffer).setInt32(0, NULL_SHAPE, true);
    return content;
  }
  if (geometry.type === "Point") {
    const content = new Uint8Array(20);
    const view = new DataView(content.buffer);
    view.setInt32(0, type, true);
    view.setFloat64(4, geometry.coordinates[0]!, true);
    view.setFloat64(12, geometry.coordinates[1]!, true);
    return content;
  }
  return partsRecord(type, type === TYPES.area ? ringsOf(geometry) : linesOf(geometry));
}

function partsRecord(type: number, parts: readonly Position[][]): Uint8Array {
  const points = parts.reduce((sum, part) => sum + part.length, 0);
  const content = new Uint8Array(44 + 4 * parts.length + 16 * points);
  const view = new DataView(content.buffer);
  view.setInt32(0, type, true);
  for (const [i, value] of boxOf(parts.flat()).entries()) view.setFloat64(4 + 8 * i, value, true);
  view.setInt32(36, parts.length, true);
  view.setInt32(40, points, true);
  let point = 0;
  for (const [p, part] of parts.entries()) {
    view.setInt32(44 + 4 * p, point, true);
    for (const [x, y] of part) {
      const at = 44 + 4 * parts.length + 16 * point++;
      view.setFloat64(at, x!, true);
      view.setFloat64(at + 8, y!, true);
    }
  }
  return content;
}

/** Rings of polygons: outer ones clockwise, holes anticlockwise (page 8). */
function ringsOf(geometry: Geometry): Position[][] {
  return polygonsOf(geometry).flatMap(([shell, ...holes]) => [
    wound(shell ?? [], true),
    ...holes.map((hole) => wound(hole, false)),
  ]);
}

function wound(ring: readonly Position[], clockwise: boolean): Position[] {
  const [x0, y0] = ring[0] ?? [0, 0];
  let twice = 0;
  for (let i = 0; i + 1 < ring.length; i++) {
    const [x1, y1] = ring[i]!;
    const [x2, y2] = ring[i + 1]!;
    twice += (x1! - x0!) * (y2! - y0!) - (x2! - x0!) * (y1! - y0!);
  }
  return twice < 0 === clockwise ? [...ring] : [...ring].reverse();
}

function positionsOf(geometry: Geometry): Position[] {
  return geometry.type === "Point" ? [geometry.coordinates] : linesOf(geometry).flat();
}

/** A file without shapes has a box of noughts. */
function boxOf(positions: readonly Position[]): Box {
  if (positions.length === 0) return [0, 0, 0, 0];
  const box: Box = [Infinity, Infinity, -Infinity, -Infinity];
  for (const [x, y] of positions) {
    box[0] = Math.min(box[0], x!);
    box[1] = Math.min(box[1], y!);
    box[2] = Math.max(box[2], x!);
    box[3] = Math.max(box[3], y!);
  }
  return box;
}
