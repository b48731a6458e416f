/** The formats for other tools: their names and files. Their writers are loaded when they are asked for. */
import type { TargetKind } from "./out-crs.ts";
import type { WritePlan } from "./written.ts";

export interface ExchangeFormat {
  readonly label: string;
  /** Names of all files that it may write. */
  readonly fileNames: readonly string[];
  /** Which reference systems it can be in: WGS 84 by its own rule, one with lengths, or any. */
  readonly crs: TargetKind;
  readonly load: () => Promise<WritePlan>;
}

export const EXCHANGE_FORMATS = {
  geojson: {
    label: "GeoJSON",
    fileNames: ["plan.geojson"],
    crs: "wgs84",
    load: async () => (await import("../geojson/write-geojson.ts")).writeGeojson,
  },
  gpkg: {
    label: "GeoPackage",
    fileNames: ["plan.gpkg"],
    crs: "any",
    load: async () => (await import("../gpkg/write-gpkg.ts")).writeGpkg,
  },
  kml: {
    label: "KML",
    fileNames: ["plan.kml"],
    crs: "wgs84",
    load: async () => (await import("../kml/write-kml.ts")).writeKml,
  },
  kmz: {
    label: "KMZ",
    fileNames: ["plan.kmz"],
    crs: "wgs84",
    load: async () => (await import("../kml/write-kml.ts")).writeKmz,
  },
  shapefile: {
    label: "shapefiles",
    fileNames: ["plan-shapefiles.zip"],
    crs: "any",
    load: async () => (await import("../shapefile/write-shapefiles.ts")).writeShapefiles,
  },
  dxf: {
    label: "DXF",
    fileNames: ["plan.dxf"],
    crs: "lengths",
    load: async () => (await import("../dxf/write-dxf.ts")).writeDxf,
  },
  flatgeobuf: {
    label: "FlatGeobuf",
    fileNames: ["plan.fgb"],
    crs: "any",
    load: async () => (await import("../fgb/write-fgb.ts")).writeFgb,
  },
  gpx: {
    label: "GPX",
    fileNames: ["plan.gpx"],
    crs: "wgs84",
    load: async () => (await import("../gpx/write-gpx.ts")).writeGpx,
  },
  csv: {
    label: "CSV",
    fileNames: ["plan.csv", "plan.csvt", "plan.prj"],
    crs: "any",
    load: async () => (await import("../csv/write-csv.ts")).writeCsv,
  },
} as const satisfies Readonly<Record<string, ExchangeFormat>>;

export type FormatName = keyof typeof EXCHANGE_FORMATS;

export const FORMAT_NAMES = Object.keys(EXCHANGE_FORMATS) as FormatName[];

export const EXCHANGE_FILE_NAMES: readonly string[] = Object.values(EXCHANGE_FORMATS).flatMap(
  ({ fileNames }) => [...fileNames],
);
