/** Heights of a site's ground, before anything is planned. Pure; loaded only where heights are given. */
import { overrideDeclaration } from "../crs/choose.ts";
import { placeRaster } from "../crs/place-raster.ts";
import type { EpsgRegistry } from "../crs/registry.ts";
import { resolveAtSite } from "../crs/resolve-at-site.ts";
import type { SourceCrs } from "../crs/source-crs.ts";
import { AreaIndex } from "../geometry/area-index.ts";
import { heightsFromSpots } from "../geometry/height-tin.ts";
import { type LatticeBox, latticeOver } from "../geometry/lattice.ts";
import { boxOf } from "../geometry/rings.ts";
import { openRaster } from "../import/raster/open-raster.ts";
import type { CrsDeclaration, InputFile } from "../model/features.ts";
import { done, type Finding, failed, type Outcome } from "../model/finding.ts";
import type { RawRaster } from "../model/raster.ts";
import type { Site } from "../model/site.ts";
import { HEIGHT_UNITS, type HeightLattice, type HeightUnit } from "../model/terrain.ts";
import { heightAt } from "../physics/terrain/height-at.ts";

/** A raster of heights that the user gives for the site. */
export interface TerrainInput {
  /** GeoTIFF or ESRI ASCII grid, with its `.prj` as a sibling where it has one. */
  readonly file: InputFile;
  /** EPSG code, PROJ string or WKT, in place of what the raster says. */
  readonly crs?: number | string | undefined;
  /** Unit of the heights, in place of what the raster says. */
  readonly heightUnit?: HeightUnit | undefined;
}

/** Heights of the ground of a site. */
export interface SiteHeights {
  readonly lattice: HeightLattice;
  /** Height at a place, metres; NaN where it is not known. */
  readonly heightAt: (eastM: number, northM: number) => number;
}

/** Ground round the lawns of which heights are wanted for its shade, metres. */
export const SHADE_BEYOND_M = 60;
/** Ground beyond the lawns that counts for the slope at their edges, at least, metres. */
const BEYOND_M = 5;
/** Step of the lattice for heights of the survey, metres. */
const SURVEY_STEP_M = 0.5;

/**
 * Heights of a raster or, without one, of the survey's own control points and lines.
 *
 * @param siteCrs system of the site's inputs that state none, for a raster that states none either
 * @param beyondM ground round the lawns that is wanted; at least 5 m is taken
 * @returns heights at a lattice, undefined where the survey has none under half of the lawn;
 *   or impossible ones; problems: those of reading and of placing the raster, and
 *   `TERRAIN_HEIGHTS_IMPOSSIBLE`
 */
export async function heightsOfSite(
  terrain: TerrainInput | undefined,
  site: Site,
  siteCrs: number | string | undefined,
  registry: EpsgRegistry,
  beyondM = BEYOND_M,
): Promise<Outcome<SiteHeights | undefined>> {
  const box = boxOfLawns(site, Math.max(BEYOND_M, beyondM));
  if (terrain) {
    const placed = await latticeOfRaster(terrain, site, siteCrs, registry, box);
    if (!placed.ok) return placed;
    const odd = impossibleHeights(placed.value);
    if (odd) return failed({ ...odd, kind: "input", file: terrain.file.name }, placed.findings);
    return done(heightsOn(placed.value), placed.findings);
  }
  const lattice = latticeOfSurvey(site, box);
  const odd = impossibleHeights(lattice);
  if (odd) return done(undefined, [{ ...odd, severity: "warning" }]);
  if (isSparse(site, lattice)) return done(undefined, [sparse(site)]);
  return done(heightsOn(lattice), [told(site)]);
}

/** No ground of the earth is lower or higher than this, trenches and peaks with room to spare, metres. */
const [LOWEST_M, HIGHEST_M] = [-12_000, 9_000];

/** Heights that no ground has: a wrong unit, a no-data value that is not said to be one. */
function impossibleHeights({ heightsM, from }: HeightLattice) {
  let [least, most] = [Infinity, -Infinity];
  for (const heightM of heightsM) {
    if (heightM < least) least = heightM;
    if (heightM > most) most = heightM;
  }
  if (!(least < LOWEST_M || most > HIGHEST_M)) return undefined;
  const worst = least < LOWEST_M ? least : most;
  return {
    code: "TERRAIN_HEIGHTS_IMPOSSIBLE",
    message: `${from} has a height of ${worst.toPrecision(6)} m under the site, which no ground on earth has`,
    remedy:
      "Check the unit of the heights, and that cells or points without a height are marked as such.",
  };
}

function heightsOn(lattice: HeightLattice): SiteHeights {
  return { lattice, heightAt: (eastM, northM) => heightAt(lattice, eastM, northM) };
}

/** Heights between the survey's own points and contours. */
function latticeOfSurvey(site: Site, box: LatticeBox): HeightLattice {
  const frame = latticeOver(box, SURVEY_STEP_M);
  const heightsM = heightsFromSpots(site.spotHeights ?? new Float64Array(0), frame);
  return { ...frame, heightsM, from: "the survey" };
}

function told({ spotHeights = new Float64Array(0) }: Site): Finding {
  return {
    code: "TERRAIN_FROM_SURVEY",
    severity: "info",
    message: `Heights of the ground are taken between ${spotHeights.length / 3} places of the survey's control points and lines.`,
    remedy: "Nothing to do; give a raster with --terrain to use that instead.",
  };
}

/** Nodes in the lawn that are asked, at most about. */
const ASKED = 4000;

/** Whether there are no heights under most of the lawn: a few benchmarks are no ground. */
function isSparse({ lawns }: Site, lattice: HeightLattice): boolean {
  const { columns, rows, westM, northM, stepM, heightsM } = lattice;
  const inLawns = new AreaIndex(lawns.map(({ area }) => area));
  const every = Math.max(1, Math.floor(Math.sqrt((columns * rows) / ASKED)));
  let [known, all] = [0, 0];
  for (let row = 0; row < rows; row += every) {
    for (let column = 0; column < columns; column += every) {
      if (inLawns.locate(westM + column * stepM, northM - row * stepM) === -1) continue;
      all++;
      if (!Number.isNaN(heightsM[row * columns + column]!)) known++;
    }
  }
  return known < all / 2 || known === 0;
}

function sparse({ spotHeights = new Float64Array(0) }: Site): Finding {
  return {
    code: "TERRAIN_SURVEY_SPARSE",
    severity: "info",
    message: `The survey's ${spotHeights.length / 3} places with heights do not lie round most of the lawn: they are not used, and lengths are flat.`,
    remedy: "Survey heights round the lawn, some metres apart, or give a raster with --terrain.",
  };
}

const SAY_CRS =
  'Put its .prj beside the raster, or say in the site file: "terrain": { "file": …, "crs": "EPSG:N" }.';

async function latticeOfRaster(
  terrain: TerrainInput,
  site: Site,
  siteCrs: number | string | undefined,
  registry: EpsgRegistry,
  box: LatticeBox,
): Promise<Outcome<HeightLattice>> {
  const { file } = terrain;
  const opened = await openRaster(file);
  if (opened === undefined) return failed(notARaster(file.name));
  if (!opened.ok) return opened;
  const raster = opened.value;
  const own = terrain.crs ?? (raster.crs.kind === "none" ? siteCrs : undefined);
  const declared: CrsDeclaration = own === undefined ? raster.crs : { ...overrideDeclaration(own) };
  const resolved = resolveAtSite(raster, declared, site.grid, registry);
  const findings = resolved.findings.map((one) => ({ file: file.name, ...one }));
  if (!resolved.ok) {
    const problem = { ...resolved.problem, file: file.name, remedy: SAY_CRS };
    return failed(problem, findings);
  }
  const unit = heightUnit(raster, terrain, resolved.value);
  const placed = await placeRaster(raster, resolved.value, site.grid, box, unit.heightUnitM);
  return { ...placed, findings: [...findings, ...unit.findings, ...placed.findings] };
}

/** What the user says, else the file, else metres; that is told where the plan counts in feet. */
function heightUnit(
  { file, heightUnitM }: RawRaster,
  { heightUnit: said }: TerrainInput,
  crs: SourceCrs,
): { heightUnitM: number; findings: Finding[] } {
  if (said !== undefined) return { heightUnitM: HEIGHT_UNITS[said], findings: [] };
  if (heightUnitM !== undefined) return { heightUnitM, findings: [] };
  if (crs.isDegrees || crs.metresPerUnit === 1) return { heightUnitM: 1, findings: [] };
  const finding: Finding = {
    code: "TERRAIN_UNIT_ASSUMED",
    severity: "warning",
    file,
    message: `Nothing says in which unit the heights are; they are taken as metres, though ${crs.name} counts in ${crs.unitName}.`,
    remedy: 'Say it in the site file: "terrain": { "file": …, "height_unit": "ft" }.',
  };
  return { heightUnitM: 1, findings: [finding] };
}

function boxOfLawns({ lawns }: Site, beyondM: number): LatticeBox {
  const box = boxOf(...lawns.map(({ area }) => area.shell));
  return {
    minE: box.minE - beyondM,
    minN: box.minN - beyondM,
    maxE: box.maxE + beyondM,
    maxN: box.maxN + beyondM,
  };
}

function notARaster(file: string) {
  return {
    code: "TERRAIN_NOT_A_RASTER",
    kind: "input" as const,
    file,
    message: "the terrain is neither a GeoTIFF nor an ESRI ASCII grid",
    remedy: "Give a raster of heights, e.g. made with `gdal_translate in.vrt heights.tif`.",
  };
}
