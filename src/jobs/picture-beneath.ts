/** A picture to lie beneath the drawings of a site. Pure; loaded only where one is given. */
import { overrideDeclaration } from "../crs/choose.ts";
import { placePicture } from "../crs/place-picture.ts";
import type { EpsgRegistry } from "../crs/registry.ts";
import { resolveAtSite } from "../crs/resolve-at-site.ts";
import { extentOf } from "../export/sheet/choose-layout.ts";
import type { SitePicture } from "../export/sheet/sheets.ts";
import { openPicture } from "../import/raster/picture.ts";
import { stemOf } from "../import/reader.ts";
import type { InputFile } from "../model/features.ts";
import { done, failed, type Outcome } from "../model/finding.ts";
import type { Plan } from "../model/plan.ts";
import type { Site } from "../model/site.ts";

/** A picture that the user gives for the site. */
export interface PictureInput {
  /** GeoTIFF, PNG or JPEG, with world file and `.prj` as siblings where it has them. */
  readonly file: InputFile;
  /** EPSG code, PROJ string or WKT, in place of what it says. */
  readonly crs?: number | string | undefined;
}

/** Round the site it is shown this much farther: share of the site's longer side, and metres. */
const BEYOND_SHARE = 0.25;
const BEYOND_M = 10;
/** For drawings: cells on the longer side of a part that is taken out of a GeoTIFF. */
const SIDE_MAX = 2400;
/** The same for the page, which is to go by mail. */
export const PAGE_SIDE_MAX = 1200;

const SAY_CRS =
  'Put its .prj beside the picture, or say in the site file: "sheet": { "image": { "file": …, "crs": "EPSG:N" } }.';

/**
 * The picture, placed in the site grid.
 *
 * @param siteCrs system of the site's inputs that state none, for a picture that states none either
 * @param sideMax cells on the longer side of a part that is taken out of a GeoTIFF
 * @returns problems: those of reading and of placing it
 */
export async function pictureBeneath(
  { file, crs }: PictureInput,
  site: Site,
  plan: Plan,
  siteCrs: number | string | undefined,
  registry: EpsgRegistry,
  sideMax = SIDE_MAX,
): Promise<Outcome<SitePicture>> {
  const opened = await openPicture(file);
  if (!opened.ok) return opened;
  const picture = opened.value;
  const own = crs ?? (picture.crs.kind === "none" ? siteCrs : undefined);
  const declared = own === undefined ? picture.crs : { ...overrideDeclaration(own) };
  const resolved = resolveAtSite(picture, declared, site.grid, registry);
  const findings = resolved.findings.map((one) => ({ file: file.name, ...one }));
  if (!resolved.ok) {
    return failed({ ...resolved.problem, file: file.name, remedy: SAY_CRS }, findings);
  }
  const { minE, minN, maxE, maxN } = extentOf(site, plan);
  const beyondM = BEYOND_M + BEYOND_SHARE * Math.max(maxE - minE, maxN - minN);
  const box = {
    minE: minE - beyondM,
    minN: minN - beyondM,
    maxE: maxE + beyondM,
    maxN: maxN + beyondM,
  };
  const placed = await placePicture(picture, resolved.value, site.grid, box, sideMax);
  if (!placed.ok) return failed(placed.problem, [...findings, ...placed.findings]);
  return done({ name: stemOf(file.name), ...placed.value }, [...findings, ...placed.findings]);
}
