/**
 * CSV (RFC 4180) with shapes as WKT (OGC 06-103r4), and the coordinates of points in columns of their
 * own; beside it the types of the columns (`.csvt`) and the reference system (`.prj`).
 */
import { strToU8 } from "fflate";
import type { Geometry } from "geojson";
import { csvRow } from "../../escape/csv.ts";
import { coordinateDecimals, decimalText } from "../exchange/decimals.ts";
import { cellOf, columnsOf, type DrawnPlan } from "../exchange/drawn-plan.ts";
import { prjText } from "../exchange/prj.ts";
import type { Loss, Written } from "../exchange/written.ts";
import { wktText } from "./wkt-text.ts";

const TYPES = { text: "String", number: "Real", flag: "String", data: "String" } as const;

export function writeCsv({ features, crs }: DrawnPlan): Written {
  const columns = columnsOf(features);
  const decimals = coordinateDecimals(crs);
  const axes = crs.isDegrees ? ["longitude", "latitude"] : ["easting", "northing"];
  const names = ["WKT", ...columns.map(({ name }) => name), ...axes, "crs"];
  let guarded = 0;
  const rows = features.map(({ geometry, properties }) => {
    const cells = columns.map((column) => {
      const value = cellOf(properties, column);
      return typeof value === "boolean" ? String(value) : value;
    });
    if (cells.some((cell) => typeof cell === "string" && csvRow([cell])[1] === "'")) guarded++;
    const wkt = geometry === null ? null : wktText(geometry, decimals);
    return csvRow([wkt, ...cells, ...placeOf(geometry, decimals), crs.definition]);
  });
  const types = ["WKT", ...columns.map(({ type }) => TYPES[type]), "Real", "Real", "String"];
  const losses: readonly Loss[] = [
    { features: features.length, what: "styles: a table is not drawn" },
    {
      features: guarded,
      what: "text that a spreadsheet would run as a formula bears an apostrophe before it",
    },
  ];
  return {
    files: [
      { name: "plan.csv", bytes: strToU8(csvRow(names) + rows.join("")) },
      { name: "plan.csvt", bytes: strToU8(csvRow(types)) },
      { name: "plan.prj", bytes: strToU8(prjText(crs)) },
    ],
    features: features.length,
    losses: losses.filter((loss) => loss.features > 0),
  };
}

function placeOf(geometry: Geometry | null, decimals: number): (number | null)[] {
  if (geometry?.type !== "Point") return [null, null];
  return geometry.coordinates.slice(0, 2).map((one) => Number(decimalText(one, decimals)));
}
