import type { Geometry } from "geojson";
import type { Role } from "./roles.ts";

/** How a layer says which coordinate reference system it is in, before anyone has resolved it. */
export type CrsDeclaration =
  /** By the format's own rule: WGS 84, longitude then latitude (RFC 7946, KML 2.3). */
  | { readonly kind: "wgs84"; readonly from: string }
  /** WKT (OGC or ESRI dialect) or a PROJ string, e.g. from a .prj file. */
  | { readonly kind: "definition"; readonly text: string; readonly from: string }
  /** An EPSG code, e.g. from `--crs` or a legacy GeoJSON `crs` member. */
  | { readonly kind: "epsg"; readonly code: number; readonly from: string }
  /** The file says nothing. */
  | { readonly kind: "none" };

/** One feature as the file has it, in source coordinates, unchecked. */
export interface RawFeature {
  /** 1-based place in the layer. */
  readonly number: number;
  /** The file's own id, where it has one. */
  readonly id?: string;
  /** GeoJSON geometry types in source coordinates; null where the file has a null geometry. */
  readonly geometry: Geometry | null;
  readonly properties: Readonly<Record<string, unknown>>;
  /**
   * Measures (M) in the order of the geometry's positions, where the file has them; NaN where it has
   * none for a position. Heights are the third number of a position.
   */
  readonly measures?: readonly number[];
  /**
   * 1-based member, where the file's feature held a GeometryCollection: its members are features
   * here, with the same `number` and properties.
   */
  readonly part?: number;
  /** What the site file says of this one feature; it comes before every rule. */
  readonly ruled?: FeatureRuling;
}

/** What is said of one feature by itself. */
export interface FeatureRuling {
  readonly role?: Role | undefined;
  /** Attributes over its own and those of rules. */
  readonly set?: Readonly<Record<string, string | number | boolean>> | undefined;
  /** The site file drew it: rules for features of the inputs do not concern it. */
  readonly isDrawn?: boolean;
}

/** Bytes of one input, as whoever opens files hands it over. */
export interface InputFile {
  /** Name as the user gave it; its ending helps to tell the format. */
  readonly name: string;
  readonly bytes: Uint8Array;
  /** Files of the same stem by ending in lower case, e.g. `.dbf`; for a `.shp`. */
  readonly siblings?: Readonly<Record<string, Uint8Array>>;
}

/** One layer of one input file, in its source CRS. */
export interface RawLayer {
  readonly file: string;
  /** Reader id: `geojson`, `kml`, `shapefile`. */
  readonly format: string;
  /** Layer name: shapefile base name, KML folder path, GeoJSON `name` member or file stem. */
  readonly layer: string;
  readonly features: readonly RawFeature[];
  /** How many features the file holds in this layer, skipped ones included. */
  readonly featuresInFile?: number;
  /** Attribute names in order of first appearance. */
  readonly fields: readonly string[];
  readonly crs: CrsDeclaration;
  /**
   * Metres in one unit of the coordinates, heights included, where the file itself says so (a
   * drawing's header), whatever the reference system counts in. Left out: the system's own unit.
   */
  readonly unitM?: number;
}

/** A layer whose coordinates are in the site grid (metres); otherwise as read. */
export interface GridLayer extends RawLayer {
  /** Name of the source CRS as shown to people, e.g. `EPSG:27700 OSGB36 / British National Grid`. */
  readonly crsName: string;
  /** Where the source CRS came from, e.g. `.prj`, `RFC 7946`, `--crs`. */
  readonly crsFrom: string;
  /** Metres in one unit of the heights, where that is not one: the unit of the plan. */
  readonly heightUnitM?: number;
}
