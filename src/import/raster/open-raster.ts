import type { InputFile } from "../../model/features.ts";
import type { Outcome } from "../../model/finding.ts";
import type { RawRaster } from "../../model/raster.ts";
import { type RasterKind, rasterKind } from "./raster-kind.ts";
import type { RasterReader } from "./raster-reader.ts";

/** Every format of height rasters, loaded when a file of it is there. */
export const RASTER_READERS: Readonly<Record<RasterKind, () => Promise<RasterReader>>> = {
  geotiff: async () => (await import("./geotiff.ts")).geotiffReader,
  "esri-grid": async () => (await import("./esri-grid.ts")).esriGridReader,
};

/** Opens a raster; undefined where the bytes are of none. Problems: `RASTER_BROKEN` and its kin. */
export async function openRaster(input: InputFile): Promise<Outcome<RawRaster> | undefined> {
  const kind = rasterKind(input.bytes);
  if (kind === undefined) return undefined;
  const { buffer, byteOffset, byteLength } = input.bytes;
  const plain = { ...input, bytes: new Uint8Array(buffer, byteOffset, byteLength) };
  return (await RASTER_READERS[kind]()).open(plain);
}
