import { extname } from "node:path";
import { WORLD_ENDINGS } from "../../src/import/raster/world-file.ts";
import { PROFILE_NAMES } from "../../src/profile/names.ts";
import type { SiteJob } from "../site-job.ts";

const OF_SHAPEFILE = [".dbf", ".prj", ".cpg", ".shx"];

/** Every file on which a plan depends, whether it is there or may yet come: paths, none twice. */
export function filesOfJob({ paths, siteFile, profile, terrain, image }: SiteJob): string[] {
  const isFile =
    typeof profile === "string" && !(PROFILE_NAMES as readonly string[]).includes(profile);
  return [
    ...new Set([
      ...paths.flatMap((path) => [path, ...(isShp(path) ? beside(path, OF_SHAPEFILE) : [])]),
      ...(siteFile === undefined ? [] : [siteFile]),
      ...(isFile ? [profile] : []),
      ...(terrain ? [terrain.file, ...beside(terrain.file, [".prj"])] : []),
      ...(image ? [image.file, ...beside(image.file, [".prj", ...WORLD_ENDINGS])] : []),
    ]),
  ];
}

const isShp = (path: string) => extname(path).toLowerCase() === ".shp";

/** In small letters and in capitals, as such files come. */
function beside(path: string, endings: readonly string[]): string[] {
  const stem = path.slice(0, path.length - extname(path).length);
  return endings.flatMap((ending) => [`${stem}${ending}`, `${stem}${ending.toUpperCase()}`]);
}
