/** A set of shapefiles in one archive: one for each kind of feature, with its style beside it. */
import { strToU8, zipSync } from "fflate";
import {
  byKind,
  columnsOf,
  type DrawnFeature,
  type DrawnPlan,
  shapeOf,
} from "../exchange/drawn-plan.ts";
import { prjText } from "../exchange/prj.ts";
import { tableNames } from "../exchange/table-names.ts";
import type { Loss, Written } from "../exchange/written.ts";
import { ZIP_TIME } from "../exchange/zip-time.ts";
import { qmlOf } from "../gpkg/qml.ts";
import { dbfOf } from "./dbf.ts";
import { shpAndShx } from "./shp.ts";

export function writeShapefiles(plan: DrawnPlan): Written {
  const kinds = byKind(plan.features);
  const names = tableNames([...kinds.keys()]);
  const prj = strToU8(prjText(plan.crs));
  const entries: Record<string, Uint8Array> = {};
  let [written, cut, leftOut] = [0, 0, 0];
  for (const [kind, held] of kinds) {
    const shape = held.map(shapeOf).find((one) => one !== undefined) ?? "point";
    const features = held.filter((one) => isOf(shape, one));
    const columns = columnsOf(features);
    const dbf = dbfOf(
      columns,
      features.map(({ properties }) => properties),
    );
    const name = names.get(kind)!;
    const { shp, shx } = shpAndShx(
      shape,
      features.map(({ geometry }) => geometry),
    );
    entries[`${name}.shp`] = shp;
    entries[`${name}.shx`] = shx;
    entries[`${name}.dbf`] = dbf.bytes;
    entries[`${name}.prj`] = prj;
    entries[`${name}.cpg`] = strToU8("UTF-8");
    const qml = qmlOf(kind, shape, "short");
    if (qml !== undefined) entries[`${name}.qml`] = strToU8(qml);
    written += features.length;
    cut += dbf.cut.size;
    leftOut += dbf.leftOut.size;
  }
  const losses: readonly Loss[] = [
    { features: plan.features.length - written, what: "shapes of several sorts in one layer" },
    { features: cut, what: "text beyond 254 bytes, where it is cut" },
    { features: leftOut, what: "values of several parts beyond 254 bytes, which are left out" },
    {
      features: written,
      what: "names of attributes beyond ten letters, which are shortened (docs/formats/plan-exchange.md lists them)",
    },
  ];
  return {
    files: [{ name: "plan-shapefiles.zip", bytes: zipSync(entries, { mtime: ZIP_TIME }) }],
    features: written,
    losses: losses.filter(({ features }) => features > 0),
  };
}

function isOf(shape: string, feature: DrawnFeature): boolean {
  const { geometry } = feature;
  if (geometry === null) return true;
  if (shape === "point") return geometry.type === "Point";
  return shape === "line" ? geometry.type.endsWith("LineString") : geometry.type.endsWith("olygon");
}
