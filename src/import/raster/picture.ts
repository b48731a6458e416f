/** Georeferenced pictures: GeoTIFF, or PNG and JPEG with a world file. Loaded only where there is one. */
import type { GeoTIFFImage } from "geotiff";
import type { CrsDeclaration, InputFile } from "../../model/features.ts";
import { done, failed, type Outcome } from "../../model/finding.ts";
import type { PictureBytes, RawPicture } from "../../model/picture.ts";
import type { CellFrame, CellWindow } from "../../model/raster.ts";
import { inputProblem } from "../reader.ts";
import { crsOf, frameOf } from "./geotiff-place.ts";
import { pngOf } from "./png.ts";
import { rasterKind } from "./raster-kind.ts";
import { RASTER_LIMITS } from "./raster-reader.ts";
import { soundImage } from "./sound-image.ts";
import { frameOfWorldFile, WORLD_ENDINGS } from "./world-file.ts";

/**
 * Opens a picture.
 *
 * @param input siblings: its world file and `.prj`, by ending
 * @returns problems: `PICTURE_NOT_READ` (another format), `PICTURE_BROKEN`, `PICTURE_NOT_PLACED`
 */
export async function openPicture(input: InputFile): Promise<Outcome<RawPicture>> {
  const { bytes, name } = input;
  if (rasterKind(bytes) === "geotiff") {
    try {
      return await openTiff(input);
    } catch (error) {
      return broken(name, `the GeoTIFF cannot be read (${textOf(error)})`);
    }
  }
  const size = sizeOfPng(bytes) ?? sizeOfJpeg(bytes);
  if (size === undefined) return failed(notAPicture(name));
  const { format, columns, rows } = size;
  if (!(columns > 0 && rows > 0 && columns * rows <= RASTER_LIMITS.cells)) {
    return broken(name, `the picture says ${columns} columns and ${rows} rows`);
  }
  const frame = frameBeside(input);
  if (frame === undefined) return failed(notPlaced(name));
  return done({
    file: name,
    columns,
    rows,
    frame,
    crs: crsBeside(input),
    isDivisible: false,
    take: async () => done({ format, bytes }),
  });
}

async function openTiff(input: InputFile): Promise<Outcome<RawPicture>> {
  const { name } = input;
  const opened = await soundImage(input.bytes);
  if (typeof opened === "string") return broken(name, opened);
  const { image, columns, rows } = opened;
  const bits = image.getBitsPerSample();
  if (Number(bits) !== 8) {
    return broken(name, `the GeoTIFF has ${bits} bits a colour, 8 are shown`);
  }
  const frame = (await frameOf(image)) ?? frameBeside(input);
  if (frame === undefined) return failed(notPlaced(name));
  const keys = image.getGeoKeys() ?? {};
  return done({
    file: name,
    columns,
    rows,
    frame,
    crs: crsOf(input, keys),
    isDivisible: true,
    take: (window, sideMax) => takeTiff(name, image, window, sideMax),
  });
}

async function takeTiff(
  file: string,
  image: GeoTIFFImage,
  { left, top, right, bottom }: CellWindow,
  sideMax: number,
): Promise<Outcome<PictureBytes>> {
  const cells = (right - left) * (bottom - top);
  if (cells > PICTURE_CELLS) return failed(tooFine(file, cells));
  const shrink = Math.min(1, sideMax / Math.max(right - left, bottom - top));
  const width = Math.max(1, Math.round((right - left) * shrink));
  const height = Math.max(1, Math.round((bottom - top) * shrink));
  try {
    const rgb = (await image.readRGB({
      window: [left, top, right, bottom],
      width,
      height,
      interleave: true,
      resampleMethod: shrink < 1 ? "bilinear" : "nearest",
    })) as unknown as ArrayLike<number>;
    return done({ format: "png", bytes: pngOf(Uint8Array.from(rgb), width, height) });
  } catch (error) {
    return broken(file, `the colours cannot be read (${textOf(error)})`);
  }
}

/** Most cells of a picture that are read round one site. */
const PICTURE_CELLS = 2 ** 26;

interface PictureSize {
  readonly format: PictureBytes["format"];
  readonly columns: number;
  readonly rows: number;
}

/** From the header chunk (ISO/IEC 15948, 11.2.2). */
function sizeOfPng(bytes: Uint8Array): PictureSize | undefined {
  const signature = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a];
  if (bytes.length < 33 || !signature.every((byte, i) => bytes[i] === byte)) return undefined;
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  return { format: "png", columns: view.getUint32(16), rows: view.getUint32(20) };
}

/** From the frame header (ISO/IEC 10918-1, B.2.2), which stands behind other segments. */
function sizeOfJpeg(bytes: Uint8Array): PictureSize | undefined {
  if (bytes[0] !== 0xff || bytes[1] !== 0xd8) return undefined;
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  let at = 2;
  while (at + 9 < bytes.length && bytes[at] === 0xff) {
    const marker = bytes[at + 1]!;
    const isFrame = marker >= 0xc0 && marker <= 0xcf && ![0xc4, 0xc8, 0xcc].includes(marker);
    if (isFrame) {
      return { format: "jpeg", columns: view.getUint16(at + 7), rows: view.getUint16(at + 5) };
    }
    at += marker === 0xff ? 1 : 2 + view.getUint16(at + 2);
  }
  return undefined;
}

function frameBeside({ siblings = {} }: InputFile): CellFrame | undefined {
  for (const ending of WORLD_ENDINGS) {
    const bytes = siblings[ending];
    const frame = bytes && frameOfWorldFile(bytes);
    if (frame) return frame;
  }
  return undefined;
}

function crsBeside({ siblings }: InputFile): CrsDeclaration {
  const prj = siblings?.[".prj"];
  if (prj === undefined) return { kind: "none" };
  return { kind: "definition", text: new TextDecoder().decode(prj), from: ".prj" };
}

const textOf = (error: unknown) =>
  (error instanceof Error ? error.message : String(error)).slice(0, 160);

function broken<T>(file: string, message: string): Outcome<T> {
  return failed(
    inputProblem(
      file,
      "PICTURE_BROKEN",
      message,
      "Export it again, e.g. with `gdal_translate -ot Byte -co COMPRESS=DEFLATE`, or as JPEG with a world file.",
    ),
  );
}

function notAPicture(file: string) {
  return inputProblem(
    file,
    "PICTURE_NOT_READ",
    "the picture is no GeoTIFF, PNG or JPEG",
    "Give one of these; PNG and JPEG with a world file beside them.",
  );
}

function notPlaced(file: string) {
  return inputProblem(
    file,
    "PICTURE_NOT_PLACED",
    "nothing says where on earth the picture lies",
    "Put its world file (.pgw, .jgw, .wld) beside it, or export it as a GeoTIFF.",
  );
}

function tooFine(file: string, cells: number) {
  return inputProblem(
    file,
    "PICTURE_TOO_FINE",
    `the picture has ${(cells / 1e6).toFixed(0)} million cells round the site; at most ${(PICTURE_CELLS / 1e6).toFixed(0)} million are read`,
    "Resample it, e.g. with `gdalwarp -tr 0.1 0.1 -r average`.",
  );
}
