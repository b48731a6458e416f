/** Opens a TIFF of anyone's making so far that its blocks can be read without harm. */
import { fromArrayBuffer, type GeoTIFFImage } from "geotiff";
import { useBoundedDecoders } from "./decoders.ts";
import { RASTER_LIMITS } from "./raster-reader.ts";
import { blockCount, tagCounts } from "./tiff-tags.ts";

useBoundedDecoders();

export interface SoundImage {
  readonly image: GeoTIFFImage;
  readonly columns: number;
  readonly rows: number;
}

/**
 * The first image of a TIFF, its sizes and blocks checked.
 *
 * @returns what is wrong with it, in words, where it must not be read
 * @throws what the package throws at broken files
 */
export async function soundImage(bytes: Uint8Array): Promise<SoundImage | string> {
  const counts = tagCounts(bytes);
  if (typeof counts === "string") return counts;
  const { buffer, byteOffset, byteLength } = bytes;
  const tiff = await fromArrayBuffer(
    buffer.slice(byteOffset, byteOffset + byteLength) as ArrayBuffer,
  );
  const image = await tiff.getImage(0);
  const [columns, rows] = [image.getWidth(), image.getHeight()];
  const [blockColumns, blockRows] = [image.getTileWidth(), image.getTileHeight()];
  const blockCells = blockColumns * Math.min(blockRows, rows);
  if (!(columns > 0) || !(rows > 0) || columns * rows > RASTER_LIMITS.cells) {
    return `the GeoTIFF says ${columns} columns and ${rows} rows`;
  }
  const isWhole = [columns, rows, blockColumns, blockRows].every(Number.isInteger);
  if (!isWhole || !(blockCells > 0) || blockCells > RASTER_LIMITS.blockCells) {
    return `the GeoTIFF has blocks of ${blockColumns} by ${blockRows} cells`;
  }
  const blocks = Math.ceil(columns / blockColumns) * Math.ceil(rows / blockRows);
  if (blocks > blockCount(counts)) {
    return `the GeoTIFF has ${blockCount(counts)} blocks; ${blocks} are needed`;
  }
  return { image, columns, rows };
}
