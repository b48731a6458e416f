/** GeoTIFF heights (OGC 19-008r4): first image, first band. Loaded only where there is such a file. */
import type { GeoTIFFImage } from "geotiff";
import type { InputFile } from "../../model/features.ts";
import { done, failed, type Outcome } from "../../model/finding.ts";
import type { CellWindow, RawRaster } from "../../model/raster.ts";
import { HEIGHT_UNITS } from "../../model/terrain.ts";
import { inputProblem } from "../reader.ts";
import { crsOf, frameOf } from "./geotiff-place.ts";
import type { RasterReader } from "./raster-reader.ts";
import { soundImage } from "./sound-image.ts";

/** Linear units of EPSG that heights come in. */
const VERTICAL_UNITS: Readonly<Record<number, number>> = {
  9001: HEIGHT_UNITS.m,
  9002: HEIGHT_UNITS.ft,
  9003: HEIGHT_UNITS["us-ft"],
};

async function open(input: InputFile): Promise<Outcome<RawRaster>> {
  try {
    return await openImage(input);
  } catch (error) {
    return broken(input.name, `the GeoTIFF cannot be read (${textOf(error)})`);
  }
}

async function openImage(input: InputFile): Promise<Outcome<RawRaster>> {
  const file = input.name;
  const opened = await soundImage(input.bytes);
  if (typeof opened === "string") return broken(file, opened);
  const { image, columns, rows } = opened;
  if (isPicture(image)) {
    return failed(
      inputProblem(
        file,
        "RASTER_IS_PICTURE",
        `this GeoTIFF is a picture (${image.getSamplesPerPixel()} bands of colour), not heights`,
        "Give a terrain model: one band of heights.",
      ),
    );
  }
  const frame = await frameOf(image);
  if (frame === undefined) {
    return failed(
      inputProblem(
        file,
        "RASTER_NOT_PLACED",
        "the TIFF does not say where on earth its cells lie",
        "Export it as a GeoTIFF, with its reference system.",
      ),
    );
  }
  const keys = image.getGeoKeys() ?? {};
  const heightUnitM = VERTICAL_UNITS[Number(keys.VerticalUnitsGeoKey)];
  const noData = image.getGDALNoData();
  const { scale, offset } = await scaling(image);
  return done({
    file,
    format: "geotiff",
    columns,
    rows,
    frame,
    crs: crsOf(input, keys),
    ...(heightUnitM === undefined ? {} : { heightUnitM }),
    read: async (window) => {
      try {
        return done(await heightsOf(image, window, noData, scale, offset));
      } catch (error) {
        return broken(file, `the heights cannot be read (${textOf(error)})`);
      }
    },
  });
}

function broken<T>(file: string, message: string): Outcome<T> {
  return failed(
    inputProblem(file, "RASTER_BROKEN", message, "Export it again, e.g. with `gdal_translate`."),
  );
}

const textOf = (error: unknown) =>
  (error instanceof Error ? error.message : String(error)).slice(0, 160);

/** Colours, a palette, or three and more bands of bytes. */
function isPicture(image: GeoTIFFImage): boolean {
  const kind = Number(image.fileDirectory.getValue("PhotometricInterpretation") ?? 1);
  return kind >= 2 || (image.getSamplesPerPixel() >= 3 && image.getBitsPerSample() === 8);
}

/** What GDAL's metadata make of stored values: value × scale + offset. */
async function scaling(image: GeoTIFFImage): Promise<{ scale: number; offset: number }> {
  const said = ((await image.getGDALMetadata(0)) ?? {}) as Readonly<Record<string, unknown>>;
  const numberOf = (value: unknown, usual: number) =>
    value === undefined || !Number.isFinite(Number(value)) ? usual : Number(value);
  return { scale: numberOf(said.SCALE, 1), offset: numberOf(said.OFFSET, 0) };
}

async function heightsOf(
  image: GeoTIFFImage,
  { left, top, right, bottom }: CellWindow,
  noData: number | null,
  scale: number,
  offset: number,
): Promise<Float64Array> {
  const read = await image.readRasters({ window: [left, top, right, bottom], samples: [0] });
  const values = (read as unknown as ArrayLike<number>[])[0]!;
  // A float raster holds its no-data value rounded to a float.
  const rounded = noData === null ? Number.NaN : Math.fround(noData);
  const heights = new Float64Array((right - left) * (bottom - top));
  for (let i = 0; i < heights.length; i++) {
    const value = values[i]!;
    const known = value !== noData && value !== rounded && Math.abs(value) < 1e30;
    heights[i] = known ? value * scale + offset : Number.NaN;
  }
  return heights;
}

/** GeoTIFF, also BigTIFF and cloud-optimised, by the package `geotiff`. */
export const geotiffReader: RasterReader = { id: "geotiff", label: "GeoTIFF", open };
