/** What the offline register knows of one EPSG code (the record form of the package `epsg-index`). */
export interface EpsgRecord {
  readonly code: string;
  /** `CRS-PROJCRS`, `CRS-GEOGCRS`, `CRS-COMPOUNDCRS` and so on. */
  readonly kind?: string;
  readonly name: string;
  /** PROJ string; null for kinds that PROJ 4 could not say. */
  readonly proj4: string | null;
  readonly wkt: string | null;
  /** North, west, south, east, degrees. */
  readonly bbox?: readonly [number, number, number, number] | null;
  readonly unit?: string | null;
  /** Of the usual datum shift to WGS 84, metres. */
  readonly accuracy?: number | null;
}

/** Looks up an EPSG code; undefined where there is none. */
export interface EpsgRegistry {
  (code: number): EpsgRecord | undefined;
  /** Every record, to find the area of use of a system without a code; may be left out. */
  all?: () => Iterable<EpsgRecord>;
  /** Told which of all records were of use, so that a register may be cut to a site's needs. */
  noted?: (records: readonly EpsgRecord[]) => void;
}
