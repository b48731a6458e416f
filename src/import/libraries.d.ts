/** Types of the reading libraries that ship none: only what is used here. */
declare module "geojson-validation" {
  /** With `trace` true: the list of what is wrong (empty where nothing is). */
  type Check = (value: unknown, trace: true) => string[];
  const gjv: {
    readonly isFeature: Check;
    readonly isGeometryObject: Check;
  };
  export default gjv;
}

declare module "@mapbox/togeojson" {
  import type { FeatureCollection } from "geojson";

  const toGeoJson: {
    kml(root: unknown): FeatureCollection;
    gpx(root: unknown): FeatureCollection;
  };
  export default toGeoJson;
}

declare module "shapefile" {
  import type { Geometry } from "geojson";

  export interface Source<T> {
    read(): Promise<{ done: true; value: undefined } | { done: false; value: T }>;
  }
  export function openShp(source: Uint8Array): Promise<Source<Geometry | null>>;
  export function openDbf(
    source: Uint8Array,
    options?: { encoding?: string },
  ): Promise<Source<Record<string, unknown>>>;
}

declare module "sql.js" {
  type Value = number | string | Uint8Array | null;
  export interface Statement {
    step(): boolean;
    get(): Value[];
    run(values?: Value[]): void;
    free(): boolean;
  }
  export interface Database {
    exec(sql: string): unknown;
    run(sql: string, values?: Value[]): unknown;
    prepare(sql: string, values?: Value[]): Statement;
    export(): Uint8Array;
    close(): void;
  }
  export interface SqlJsStatic {
    readonly Database: new (bytes?: Uint8Array) => Database;
  }
}

declare module "sql.js/dist/sql-wasm-inline.js" {
  const initSqlJs: () => Promise<import("sql.js").SqlJsStatic>;
  export default initSqlJs;
}

declare module "papaparse" {
  const parser: {
    parse(
      text: string,
      options: { delimiter: string; newline?: string; preview?: number },
    ): { data: string[][] };
  };
  export default parser;
}
