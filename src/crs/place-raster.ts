/** A raster of heights brought to a lattice in the site grid. */
import { type LatticeBox, type LatticeFrame, latticeOver } from "../geometry/lattice.ts";
import { RASTER_LIMITS } from "../import/raster/raster-reader.ts";
import { done, type Finding, failed, type Outcome } from "../model/finding.ts";
import type { CellFrame, CellWindow, RawRaster } from "../model/raster.ts";
import type { SiteGrid } from "../model/site.ts";
import type { HeightLattice } from "../model/terrain.ts";
import type { XY } from "./build-crs.ts";
import { cellOf, gridTransform, placeInSource } from "./cell-places.ts";
import { fitPatch, type Transform, valueAt } from "./patch.ts";
import type { SourceCrs } from "./source-crs.ts";

/** Finer cells than this are of no use for a wire, metres. */
const STEP_MIN_M = 0.05;
/** How far a node may be from where the projections themselves put it, metres. */
const TOLERANCE_M = 1e-3;

/**
 * Samples a raster at a lattice over the box of a site.
 *
 * The lattice has the raster's own cell size on the ground. Heights between the middles of cells
 * are bilinear; within half a cell of cells without a height the last slope goes on. A node whose
 * own cell has no height has none. Only the window round the box is read.
 *
 * @param box what has to be covered, metres in the site grid
 * @param heightUnitM metres in one unit of the raster's heights
 * @returns problems: `TERRAIN_ELSEWHERE` where the raster has no height in the box,
 *   `TERRAIN_TOO_FINE` where the window has too many cells, those of reading the raster
 */
export async function placeRaster(
  raster: RawRaster,
  crs: SourceCrs,
  grid: SiteGrid,
  box: LatticeBox,
  heightUnitM: number,
): Promise<Outcome<HeightLattice>> {
  const { frame, file } = raster;
  const toGrid = gridTransform(crs, grid);
  const exact = placeInSource(raster, crs, grid);
  const centre: XY = [(box.minE + box.maxE) / 2, (box.minN + box.maxN) / 2];
  const cellM = cellSizeM(toGrid, exact, frame, centre);
  if (cellM === undefined) return elsewhere(file, crs);
  const wantedM = Math.max(cellM, STEP_MIN_M);
  const lattice = latticeOver(box, wantedM);
  const { stepM } = lattice;
  const toSource = quick(exact, lattice, crs);
  const window = windowOf(raster, lattice, toSource);
  if (window === undefined) return elsewhere(file, crs);
  const cells = (window.right - window.left) * (window.bottom - window.top);
  if (cells > RASTER_LIMITS.windowCells) return tooFine(file, cells);
  const read = await raster.read(window);
  if (!read.ok) return read;
  const heightsM = sampled(read.value, window, raster, lattice, toSource, heightUnitM);
  if (heightsM.every(Number.isNaN)) return elsewhere(file, crs);
  const findings = stepM > wantedM ? [coarser(file, cellM, stepM)] : [];
  return done({ ...lattice, heightsM, from: file }, findings);
}

/** The shorter side of a cell on the ground in the middle of the site; undefined where it has no place. */
function cellSizeM(
  toGrid: Transform,
  toSource: Transform,
  frame: CellFrame,
  centre: XY,
): number | undefined {
  const [x, y] = toSource(...centre);
  const here = toGrid(x, y);
  const side = (dx: number, dy: number) => {
    const there = toGrid(x + dx, y + dy);
    return Math.hypot(there[0] - here[0], there[1] - here[1]);
  };
  const sizeM = Math.min(
    side(frame.xPerColumn, frame.yPerColumn),
    side(frame.xPerRow, frame.yPerRow),
  );
  return sizeM > 0 ? sizeM : undefined;
}

/** Place of a node in the site grid. */
const nodeAt = (lattice: LatticeFrame, column: number, row: number): XY => [
  lattice.westM + column * lattice.stepM,
  lattice.northM - row * lattice.stepM,
];

/** The same transformation by a polynomial over the lattice, where that holds. */
function quick(exact: Transform, lattice: LatticeFrame, crs: SourceCrs): Transform {
  const middle = nodeAt(lattice, (lattice.columns - 1) / 2, (lattice.rows - 1) / 2);
  const side = lattice.stepM * Math.max(lattice.columns, lattice.rows);
  const tolerance = crs.isDegrees ? TOLERANCE_M / 111_320 : TOLERANCE_M / crs.metresPerUnit;
  const patch = fitPatch(exact, middle, side, tolerance);
  if (patch === undefined) return exact;
  return (east, north) => {
    const u = (east - patch.midX) * patch.perUnit;
    const v = (north - patch.midY) * patch.perUnit;
    return [valueAt(patch.a, u, v), valueAt(patch.b, u, v)];
  };
}

/** The cells round the lattice, with two to spare; undefined where the raster has none of them. */
function windowOf(
  { frame, columns, rows }: RawRaster,
  lattice: LatticeFrame,
  toSource: Transform,
): CellWindow | undefined {
  let [left, top, right, bottom] = [Infinity, Infinity, -Infinity, -Infinity];
  const SIDE = 16;
  for (let i = 0; i <= SIDE; i++) {
    for (let j = 0; j <= SIDE; j++) {
      const node = nodeAt(
        lattice,
        (i / SIDE) * (lattice.columns - 1),
        (j / SIDE) * (lattice.rows - 1),
      );
      const [column, row] = cellOf(frame, ...toSource(...node));
      if (!Number.isFinite(column) || !Number.isFinite(row)) continue;
      [left, right] = [Math.min(left, column), Math.max(right, column)];
      [top, bottom] = [Math.min(top, row), Math.max(bottom, row)];
    }
  }
  const window = {
    left: Math.max(0, Math.floor(left) - 2),
    top: Math.max(0, Math.floor(top) - 2),
    right: Math.min(columns, Math.ceil(right) + 2),
    bottom: Math.min(rows, Math.ceil(bottom) + 2),
  };
  return window.left < window.right && window.top < window.bottom ? window : undefined;
}

function sampled(
  cells: Float64Array,
  window: CellWindow,
  { frame }: RawRaster,
  lattice: LatticeFrame,
  toSource: Transform,
  heightUnitM: number,
): Float64Array {
  const width = window.right - window.left;
  const height = window.bottom - window.top;
  const cell = (column: number, row: number): number =>
    column < 0 || row < 0 || column >= width || row >= height
      ? Number.NaN
      : cells[row * width + column]!;
  const heightsM = new Float64Array(lattice.columns * lattice.rows);
  for (let row = 0; row < lattice.rows; row++) {
    for (let column = 0; column < lattice.columns; column++) {
      const [c, r] = cellOf(frame, ...toSource(...nodeAt(lattice, column, row)));
      heightsM[row * lattice.columns + column] =
        bilinear(cell, c - window.left, r - window.top) * heightUnitM;
    }
  }
  return heightsM;
}

/** Height at a place in columns and rows of the window, from the middles of the cells round it. */
function bilinear(
  cell: (column: number, row: number) => number,
  column: number,
  row: number,
): number {
  const [c, r] = [Math.floor(column), Math.floor(row)];
  const own = cell(c, r);
  if (Number.isNaN(own)) return Number.NaN;
  const [dc, dr] = [column - c - 0.5, row - r - 0.5];
  const [sc, sr] = [dc < 0 ? -1 : 1, dr < 0 ? -1 : 1];
  const beside = goingOn(cell(c + sc, r), own, cell(c - sc, r));
  const below = goingOn(cell(c, r + sr), own, cell(c, r - sr));
  const across = cell(c + sc, r + sr);
  const corner = Number.isNaN(across) ? beside + below - own : across;
  const [wc, wr] = [Math.abs(dc), Math.abs(dr)];
  return (
    own * (1 - wc) * (1 - wr) + beside * wc * (1 - wr) + below * (1 - wc) * wr + corner * wc * wr
  );
}

/** A neighbour, or what stands in for it: the slope on the other side goes on. */
function goingOn(neighbour: number, own: number, opposite: number): number {
  if (!Number.isNaN(neighbour)) return neighbour;
  return Number.isNaN(opposite) ? own : 2 * own - opposite;
}

function elsewhere(file: string, crs: SourceCrs): Outcome<HeightLattice> {
  return failed({
    code: "TERRAIN_ELSEWHERE",
    kind: "input",
    file,
    message: `the raster of heights, in ${crs.name}, has none anywhere on the site`,
    remedy:
      "Check that it is of this place and states the right reference system; give terrain.crs in a site file where it states a wrong one.",
  });
}

function tooFine(file: string, cells: number): Outcome<HeightLattice> {
  return failed({
    code: "TERRAIN_TOO_FINE",
    kind: "input",
    file,
    message: `the raster has ${(cells / 1e6).toFixed(0)} million cells round the site; at most ${(RASTER_LIMITS.windowCells / 1e6).toFixed(0)} million are read`,
    remedy: "Resample it to some decimetres a cell, e.g. with `gdalwarp -tr 0.5 0.5 -r average`.",
  });
}

function coarser(file: string, cellM: number, stepM: number): Finding {
  return {
    code: "TERRAIN_COARSENED",
    severity: "info",
    file,
    message: `The raster's cells are ${cellM.toFixed(2)} m wide; over a site of this size heights are taken every ${stepM.toFixed(2)} m.`,
    remedy: "Nothing to do, or plan the site in pieces.",
  };
}
