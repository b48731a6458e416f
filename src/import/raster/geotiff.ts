/** GeoTIFF heights (OGC 19-008r4): first image, first band. Loaded only where there is such a file. */
import { fromArrayBuffer, type GeoTIFFImage } from "geotiff";
import type { CrsDeclaration, InputFile } from "../../model/features.ts";
import { done, failed, type Outcome } from "../../model/finding.ts";
import type { CellFrame, CellWindow, RawRaster } from "../../model/raster.ts";
import { HEIGHT_UNITS } from "../../model/terrain.ts";
import { inputProblem } from "../reader.ts";
import { useBoundedDecoders } from "./decoders.ts";
import { RASTER_LIMITS, type RasterReader } from "./raster-reader.ts";
import { blockCount, tagCounts } from "./tiff-tags.ts";

useBoundedDecoders();

/** What the values of a user-defined key mean: not one of the register. */
const USER_DEFINED = 32_767;

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
  const counts = tagCounts(input.bytes);
  if (typeof counts === "string") return broken(file, counts);
  const { buffer, byteOffset, byteLength } = input.bytes;
  const tiff = await fromArrayBuffer(
    buffer.slice(byteOffset, byteOffset + byteLength) as ArrayBuffer,
  );
  const image = await tiff.getImage(0);
  const [columns, rows] = [image.getWidth(), image.getHeight()];
  const [blockColumns, blockRows] = [image.getTileWidth(), image.getTileHeight()];
  const blockCells = blockColumns * Math.min(blockRows, rows);
  if (!(columns > 0) || !(rows > 0) || columns * rows > RASTER_LIMITS.cells) {
    return broken(file, `the GeoTIFF says ${columns} columns and ${rows} rows`);
  }
  const isWhole = [columns, rows, blockColumns, blockRows].every(Number.isInteger);
  if (!isWhole || !(blockCells > 0) || blockCells > RASTER_LIMITS.blockCells) {
    return broken(file, `the GeoTIFF has blocks of ${blockColumns} by ${blockRows} cells`);
  }
  const blocks = Math.ceil(columns / blockColumns) * Math.ceil(rows / blockRows);
  if (blocks > blockCount(counts)) {
    return broken(file, `the GeoTIFF has ${blockCount(counts)} blocks; ${blocks} are needed`);
  }
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

/** Transformation matrix, or tie point and scale; half a cell back where the point is the middle. */
async function frameOf(image: GeoTIFFImage): Promise<CellFrame | undefined> {
  const tags = image.fileDirectory;
  const list = async (tag: "ModelTransformation" | "ModelTiepoint" | "ModelPixelScale") =>
    tags.hasTag(tag) ? Array.from((await tags.loadValue(tag)) as ArrayLike<number>) : undefined;
  const matrix = await list("ModelTransformation");
  const tie = await list("ModelTiepoint");
  const scale = await list("ModelPixelScale");
  let frame: CellFrame | undefined;
  if (matrix !== undefined && matrix.length >= 8) {
    const [xPerColumn, xPerRow, , x0, yPerColumn, yPerRow, , y0] = matrix as number[];
    frame = {
      x0: x0!,
      y0: y0!,
      xPerColumn: xPerColumn!,
      yPerColumn: yPerColumn!,
      xPerRow: xPerRow!,
      yPerRow: yPerRow!,
    };
  } else if (tie !== undefined && tie.length === 6 && scale !== undefined && scale.length >= 2) {
    const [i, j, , x, y] = tie as [number, number, number, number, number];
    const [dx, dy] = scale as [number, number];
    frame = {
      x0: x - i * dx,
      y0: y + j * dy,
      xPerColumn: dx,
      yPerColumn: 0,
      xPerRow: 0,
      yPerRow: -dy,
    };
  }
  if (frame === undefined) return undefined;
  const area = frame.xPerColumn * frame.yPerRow - frame.xPerRow * frame.yPerColumn;
  if (!Number.isFinite(area) || area === 0) return undefined;
  if (Number(image.getGeoKeys()?.GTRasterTypeGeoKey) !== 2) return frame;
  return {
    ...frame,
    x0: frame.x0 - (frame.xPerColumn + frame.xPerRow) / 2,
    y0: frame.y0 - (frame.yPerColumn + frame.yPerRow) / 2,
  };
}

function crsOf({ siblings }: InputFile, keys: Readonly<Record<string, unknown>>): CrsDeclaration {
  for (const key of ["ProjectedCSTypeGeoKey", "GeographicTypeGeoKey"]) {
    const code = Number(keys[key]);
    if (Number.isInteger(code) && code > 1023 && code < USER_DEFINED) {
      return { kind: "epsg", code, from: "the GeoTIFF" };
    }
    // A projection of its own must not fall back to the degrees that it is made on.
    if (code === USER_DEFINED) break;
  }
  const prj = siblings?.[".prj"];
  if (prj === undefined) return { kind: "none" };
  return { kind: "definition", text: new TextDecoder().decode(prj), from: ".prj" };
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
