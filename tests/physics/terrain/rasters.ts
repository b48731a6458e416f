/** Rasters of invented ground for tests, written as ESRI ASCII grids. */
import proj4 from "proj4";
import type { InputFile } from "../../../src/model/features.ts";
import type { HeightLattice } from "../../../src/model/terrain.ts";

export const UTM26 = "+proj=utm +zone=26 +datum=WGS84 +units=m +no_defs";
const ORIGIN: readonly [number, number] = [-28.5, 47.25];
/** The origin of the test sites in UTM zone 26 N, by proj4 directly. */
export const HOME = proj4(UTM26).forward([...ORIGIN]) as [number, number];

export type Ground = (x: number, y: number) => number;

/**
 * A grid over a square round a place; `ground` is asked at the middles of cells, with x and y from
 * that place, in units of the grid.
 */
export function gridText(
  ground: Ground,
  {
    at = HOME,
    side = 120,
    cell = 1,
  }: { at?: readonly number[]; side?: number; cell?: number } = {},
): string {
  const count = Math.round(side / cell);
  const rows = Array.from({ length: count }, (_, r) =>
    Array.from({ length: count }, (_, c) => {
      const z = ground((c + 0.5) * cell - side / 2, side / 2 - (r + 0.5) * cell);
      return Number.isNaN(z) ? "-9999" : z.toFixed(9);
    }).join(" "),
  );
  const corner = at.map((value) => value - side / 2);
  return `ncols ${count}\nnrows ${count}\nxllcorner ${corner[0]}\nyllcorner ${corner[1]}\ncellsize ${cell}\nNODATA_value -9999\n${rows.join("\n")}\n`;
}

export function rasterFile(text: string, prj: string | undefined = UTM26): InputFile {
  const encode = (value: string) => new TextEncoder().encode(value);
  return {
    name: "heights.asc",
    bytes: encode(text),
    ...(prj === undefined ? {} : { siblings: { ".prj": encode(prj) } }),
  };
}

/** A lattice of 100 m round the origin of the site grid. */
export function latticeOf(ground: Ground, stepM: number): HeightLattice {
  const count = Math.round(100 / stepM) + 1;
  const heightsM = new Float64Array(count * count);
  for (let row = 0; row < count; row++) {
    for (let column = 0; column < count; column++) {
      heightsM[row * count + column] = ground(column * stepM - 50, 50 - row * stepM);
    }
  }
  return {
    westM: -50,
    northM: 50,
    stepM,
    columns: count,
    rows: count,
    heightsM,
    from: "heights.asc",
  };
}
