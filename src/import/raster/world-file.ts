import type { CellFrame } from "../../model/raster.ts";

/** Endings of world files beside a picture, by custom: first and last letter of its own, and `w`. */
export const WORLD_ENDINGS = [".pgw", ".pngw", ".jgw", ".jpgw", ".jpegw", ".tfw", ".tifw", ".wld"];

/**
 * The frame that a world file gives: six numbers, one a line (x per column, y per column, x per row,
 * y per row, x and y of the middle of the first cell), as GIS programs have long had it.
 *
 * @returns undefined where it is none
 */
export function frameOfWorldFile(bytes: Uint8Array): CellFrame | undefined {
  const words = new TextDecoder().decode(bytes.subarray(0, 4096)).trim().split(/\s+/);
  const numbers = words.map((word) => Number(word.replace(",", ".")));
  if (numbers.length < 6 || !numbers.slice(0, 6).every(Number.isFinite)) return undefined;
  const [xPerColumn, yPerColumn, xPerRow, yPerRow, x, y] = numbers as [
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  if (xPerColumn * yPerRow - xPerRow * yPerColumn === 0) return undefined;
  return {
    x0: x - (xPerColumn + xPerRow) / 2,
    y0: y - (yPerColumn + yPerRow) / 2,
    xPerColumn,
    yPerColumn,
    xPerRow,
    yPerRow,
  };
}
