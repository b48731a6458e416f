/**
 * FlatGeobuf 3: all features in one layer of mixed shapes. Header by us, as the library's own takes its
 * columns from the first feature; features by the library. There is no spatial index, which is optional.
 */
import type { Geometry } from "geojson";
import { linesOf } from "../../model/lines-of.ts";
import { type Column, columnsOf, type DrawnPlan } from "../exchange/drawn-plan.ts";
import { joinBytes } from "../exchange/join-bytes.ts";
import type { TargetCrs } from "../exchange/target-crs.ts";
import type { Loss, Written } from "../exchange/written.ts";
import {
  Builder,
  buildFeature,
  Column as ColumnTable,
  ColumnType,
  Crs,
  GeometryType,
  Header,
  magicbytes,
  parseGeometry,
} from "./library.ts";

const TYPES = {
  text: ColumnType.String,
  number: ColumnType.Double,
  flag: ColumnType.Bool,
  data: ColumnType.Json,
} as const;

export function writeFgb(plan: DrawnPlan): Written {
  const features = plan.features.filter(({ geometry }) => geometry !== null);
  const columns = columnsOf(features);
  const meta = columns.map(({ name, type }) => ({ name, type: TYPES[type] }));
  const parts = [
    Uint8Array.from(magicbytes),
    header(columns, plan.crs, features.length, envelopeOf(features.map((one) => one.geometry!))),
    ...features.map(({ geometry, properties }) => {
      const values = Object.fromEntries(
        columns.map((column) => [column.name, held(properties[column.name], column)]),
      );
      const shape = parseGeometry(geometry as never);
      return buildFeature(shape, values as never, { columns: meta } as never);
    }),
  ];
  const losses: readonly Loss[] = [
    { features: plan.features.length - features.length, what: "features without a place" },
    { features: features.length, what: "styles: FlatGeobuf has no colours" },
  ];
  return {
    files: [{ name: "plan.fgb", bytes: joinBytes(parts) }],
    features: features.length,
    losses: losses.filter((loss) => loss.features > 0),
  };
}

/** A value as the library takes it for a column of that type: null for none. */
function held(value: unknown, { type }: Column): unknown {
  if (value === undefined || value === null) return null;
  if (type === "number") return typeof value === "number" ? value : null;
  if (type === "flag") return typeof value === "boolean" ? value : null;
  if (type === "data") return value;
  return typeof value === "object" ? JSON.stringify(value) : String(value);
}

/** Least and greatest x and y: minX, minY, maxX, maxY. */
function envelopeOf(geometries: readonly Geometry[]): number[] {
  const box = [Infinity, Infinity, -Infinity, -Infinity];
  for (const geometry of geometries) {
    const positions = geometry.type === "Point" ? [geometry.coordinates] : linesOf(geometry).flat();
    for (const [x, y] of positions) {
      box[0] = Math.min(box[0]!, x!);
      box[1] = Math.min(box[1]!, y!);
      box[2] = Math.max(box[2]!, x!);
      box[3] = Math.max(box[3]!, y!);
    }
  }
  return box;
}

function header(
  columns: readonly Column[],
  crs: TargetCrs,
  count: number,
  box: readonly number[],
): Uint8Array {
  const builder = new Builder();
  const offsets = columns.map(({ name, type }) => {
    const nameAt = builder.createString(name);
    ColumnTable.startColumn(builder);
    ColumnTable.addName(builder, nameAt);
    ColumnTable.addType(builder, TYPES[type]);
    return ColumnTable.endColumn(builder);
  });
  const columnsAt = Header.createColumnsVector(builder, offsets);
  const nameAt = builder.createString("plan");
  const boxAt = count > 0 ? Header.createEnvelopeVector(builder, [...box]) : 0;
  const crsAt = crsOf(builder, crs);
  Header.startHeader(builder);
  Header.addName(builder, nameAt);
  if (boxAt) Header.addEnvelope(builder, boxAt);
  Header.addGeometryType(builder, GeometryType.Unknown);
  Header.addColumns(builder, columnsAt);
  Header.addFeaturesCount(builder, BigInt(count));
  Header.addIndexNodeSize(builder, 0);
  Header.addCrs(builder, crsAt);
  builder.finishSizePrefixed(Header.endHeader(builder));
  return builder.asUint8Array();
}

function crsOf(builder: Builder, { epsg, name, wkt }: TargetCrs): number {
  const orgAt = epsg === undefined ? 0 : builder.createString("EPSG");
  const nameAt = builder.createString(name);
  const wktAt = builder.createString(wkt);
  Crs.startCrs(builder);
  if (epsg !== undefined) {
    Crs.addOrg(builder, orgAt);
    Crs.addCode(builder, epsg);
  }
  Crs.addName(builder, nameAt);
  Crs.addWkt(builder, wktAt);
  return Crs.endCrs(builder);
}
