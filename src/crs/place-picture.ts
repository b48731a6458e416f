/** Where a picture lies in the site grid. */
import { done, type Finding, failed, type Outcome } from "../model/finding.ts";
import type { PictureBytes, RawPicture } from "../model/picture.ts";
import type { CellWindow } from "../model/raster.ts";
import type { SiteGrid } from "../model/site.ts";
import type { XY } from "./build-crs.ts";
import { at, cellOf, gridTransform, placeInSource } from "./cell-places.ts";
import type { SourceCrs } from "./source-crs.ts";

/** A box of the site grid, metres. */
export interface GridBox {
  readonly minE: number;
  readonly minN: number;
  readonly maxE: number;
  readonly maxN: number;
}

/** Maps (u, v), 0 to 1 from the upper left corner, to `[a u + c v + e, b u + d v + f]`. */
export type Affine = readonly [a: number, b: number, c: number, d: number, e: number, f: number];

export interface PlacedPicture extends PictureBytes {
  readonly toGrid: Affine;
}

/** A picture that bends by more than this against the site grid is told, metres. */
const BENT_M = 0.05;
/** Points to a side at which the picture's place is computed. */
const SIDE = 5;

/**
 * Lays a picture under a box of the site grid: the part that shows there, by the affine map that is
 * nearest to what the projections say.
 *
 * @param sideMax most cells on the longer side, where the picture can be made smaller
 * @returns problems: `PICTURE_ELSEWHERE` where none of it is in the box, those of reading it
 */
export async function placePicture(
  picture: RawPicture,
  crs: SourceCrs,
  grid: SiteGrid,
  box: GridBox,
  sideMax: number,
): Promise<Outcome<PlacedPicture>> {
  const seen = windowOf(picture, placeInSource(picture, crs, grid), box);
  if (seen === undefined) return failed(elsewhere(picture.file, crs));
  const whole = { left: 0, top: 0, right: picture.columns, bottom: picture.rows };
  const window = picture.isDivisible ? seen : whole;
  const toGrid = gridTransform(crs, grid);
  const place = (column: number, row: number): XY => toGrid(...at(picture.frame, column, row));
  const { map, offM } = affineOver(place, seen, window);
  if (!map.every(Number.isFinite)) return failed(elsewhere(picture.file, crs));
  const taken = await picture.take(window, sideMax);
  if (!taken.ok) return taken;
  const findings = offM > BENT_M ? [bent(picture.file, offM)] : [];
  return done({ ...taken.value, toGrid: map }, findings);
}

function windowOf(
  { frame, columns, rows }: RawPicture,
  toSource: (east: number, north: number) => XY,
  { minE, minN, maxE, maxN }: GridBox,
): CellWindow | undefined {
  let [left, top, right, bottom] = [Infinity, Infinity, -Infinity, -Infinity];
  for (let i = 0; i <= SIDE; i++) {
    for (let j = 0; j <= SIDE; j++) {
      const east = minE + ((maxE - minE) * i) / SIDE;
      const north = minN + ((maxN - minN) * j) / SIDE;
      const [column, row] = cellOf(frame, ...toSource(east, north));
      if (!Number.isFinite(column) || !Number.isFinite(row)) continue;
      [left, right] = [Math.min(left, column), Math.max(right, column)];
      [top, bottom] = [Math.min(top, row), Math.max(bottom, row)];
    }
  }
  const window = {
    left: Math.max(0, Math.floor(left)),
    top: Math.max(0, Math.floor(top)),
    right: Math.min(columns, Math.ceil(right)),
    bottom: Math.min(rows, Math.ceil(bottom)),
  };
  return window.left < window.right && window.top < window.bottom ? window : undefined;
}

/**
 * The affine map of a window, fitted over what is seen of it by least squares.
 *
 * On a lattice of places, symmetric about its middle, the slopes are found one by one.
 */
function affineOver(
  place: (column: number, row: number) => XY,
  seen: CellWindow,
  window: CellWindow,
): { map: Affine; offM: number } {
  const [midC, midR] = [(seen.left + seen.right) / 2, (seen.top + seen.bottom) / 2];
  const [halfC, halfR] = [(seen.right - seen.left) / 2, (seen.bottom - seen.top) / 2];
  const points: { s: number; t: number; xy: XY }[] = [];
  for (let i = 0; i < SIDE; i++) {
    for (let j = 0; j < SIDE; j++) {
      const [s, t] = [(2 * i) / (SIDE - 1) - 1, (2 * j) / (SIDE - 1) - 1];
      points.push({ s, t, xy: place(midC + s * halfC, midR + t * halfR) });
    }
  }
  const along = (axis: 0 | 1) => {
    const over = (weight: (p: { s: number; t: number }) => number) =>
      points.reduce((sum, p) => sum + weight(p) * p.xy[axis], 0);
    const square = points.reduce((sum, p) => sum + p.s * p.s, 0);
    return {
      middle: over(() => 1) / points.length,
      perS: over((p) => p.s) / square,
      perT: over((p) => p.t) / square,
    };
  };
  const [east, north] = [along(0), along(1)];
  const offM = Math.max(
    ...points.map(({ s, t, xy }) =>
      Math.hypot(
        east.middle + s * east.perS + t * east.perT - xy[0],
        north.middle + s * north.perS + t * north.perT - xy[1],
      ),
    ),
  );
  // From the lattice of what is seen to shares of the window.
  const [perColumn, perRow] = [1 / halfC, 1 / halfR];
  const [width, height] = [window.right - window.left, window.bottom - window.top];
  const of = ({ middle, perS, perT }: typeof east) => ({
    perU: perS * perColumn * width,
    perV: perT * perRow * height,
    corner: middle + perS * (window.left - midC) * perColumn + perT * (window.top - midR) * perRow,
  });
  const [e, n] = [of(east), of(north)];
  return { map: [e.perU, n.perU, e.perV, n.perV, e.corner, n.corner], offM };
}

function elsewhere(file: string, crs: SourceCrs) {
  return {
    code: "PICTURE_ELSEWHERE",
    kind: "input" as const,
    file,
    message: `the picture, in ${crs.name}, shows nothing of the site`,
    remedy:
      "Check that it is of this place and states the right reference system; give sheet.image.crs in a site file where it states a wrong one.",
  };
}

function bent(file: string, offM: number): Finding {
  return {
    code: "PICTURE_BENT",
    severity: "info",
    file,
    message: `Against the site grid the picture is bent by up to ${offM.toFixed(2)} m over the site; it is laid as near as a straight picture can be.`,
    remedy:
      "Nothing to do for a picture beneath; bring it to the site's own zone to have it exact.",
  };
}
