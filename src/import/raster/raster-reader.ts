import type { InputFile } from "../../model/features.ts";
import type { Outcome } from "../../model/finding.ts";
import type { RawRaster } from "../../model/raster.ts";

/** Limits that keep a hostile or broken raster from taking the machine down. */
export const RASTER_LIMITS = {
  /** Most cells of a whole raster. */
  cells: 2 ** 32,
  /** Most cells that are read round one site. */
  windowCells: 2 ** 24,
  /** Most cells of one tile or strip. */
  blockCells: 2 ** 24,
} as const;

/** A format of height rasters. Adding one: a module, a line in RASTER_READERS, a fixture, a page. */
export interface RasterReader {
  readonly id: string;
  readonly label: string;
  /** Opens the file: its frame and system; heights are read later, round the site. */
  open(input: InputFile): Promise<Outcome<RawRaster>>;
}
