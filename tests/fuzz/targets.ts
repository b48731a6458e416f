/** Every way in which bytes of a user come into the program. `tests/fuzz/fuzz.test.ts` checks that no reader is missing. */

import type { PlanOptions } from "../../src/jobs/pegline.ts";
import type { Profile } from "../../src/model/profile.ts";
import { readProfile } from "../../src/profile/read-profile.ts";
import { parseCrsText } from "../../src/sitefile/crs-text.ts";
import { looksLikeSiteFile, readSiteFile } from "../../src/sitefile/read-site-file.ts";
import { mergeOptions, optionsOfSiteFile } from "../../src/sitefile/site-options.ts";
import { checkOutcome } from "./answers.ts";
import {
  bytesOf,
  type ChangePart,
  changeBytes,
  changeText,
  headOf,
  onePart,
  text,
} from "./change.ts";
import {
  DXF_WORDS,
  JSON_WORDS,
  SITE_FILE_WORDS,
  TABLE_WORDS,
  WKT_WORDS,
  XML_WORDS,
} from "./dictionaries.ts";
import { BYTE_MUTATIONS, within } from "./mutate/bytes.ts";
import { changeJson, changeJsonLine } from "./mutate/json.ts";
import { changeCells, changeElements, changeGroups, changeNodes } from "./mutate/markup.ts";
import { attackLists, attackPacked, repacked } from "./mutate/zip.ts";
import type { Chance } from "./random.ts";
import { readSite } from "./read-site.ts";
import { file, type Parts, shapefile, systemTexts, zipped } from "./seeds.ts";
import {
  breakTarget,
  checkTarget,
  compareTarget,
  convertTarget,
  terrainTargets,
} from "./sound-site.ts";
import type { Reached, Target } from "./target.ts";

const OWN = "tests/fuzz/corpus";
const IMPORT = "tests/fixtures/import";
/** A target that is read like a file of that ending. */
function format(
  id: string,
  weight: number,
  ending: string,
  change: ChangePart | Readonly<Record<string, ChangePart>>,
  seeds: () => readonly Parts[],
  options: PlanOptions = {},
): Target {
  const changes = typeof change === "function" ? { [ending]: change } : change;
  return {
    id,
    weight,
    seeds,
    mutate: onePart(changes, ending),
    read: (parts, plan) => {
      const { [ending]: bytes, ...siblings } = parts;
      return readSite([{ name: `fuzz${ending}`, bytes: bytes!, siblings }], options, plan);
    },
  };
}

const geojson = changeText([changeJson], JSON_WORDS);
const kml = changeText([changeElements], XML_WORDS);
const wkt = changeText([changeNodes], WKT_WORDS);
const shp = changeBytes([...BYTE_MUTATIONS, headOf(100), headOf(160), headOf(160), headOf(400)]);
const dbf = changeBytes([...BYTE_MUTATIONS, headOf(32), headOf(100)]);
const SHAPEFILE = { ".shp": shp, ".dbf": dbf, ".prj": wkt, ".cpg": changeBytes(BYTE_MUTATIONS) };

/** Changes an entry of an archive by its ending. */
function changeEntry(name: string, bytes: Uint8Array, chance: Chance): Uint8Array {
  const ending = name.slice(name.lastIndexOf(".")).toLowerCase();
  const change = { ...SHAPEFILE, ".kml": kml }[ending] ?? changeBytes(BYTE_MUTATIONS);
  return change(bytes, bytes, chance);
}

const archive = changeBytes([
  repacked(changeEntry),
  repacked(changeEntry),
  attackLists,
  attackPacked,
]);

const gridOptions: PlanOptions = { crs: 25830 };

const siteFile: Target = {
  id: "site-file",
  weight: 4,
  seeds: () => [
    file(`${OWN}/site.jsonc`),
    file(`${OWN}/site-lawns.json`, ".jsonc"),
    file(`${OWN}/site-inside.json`, ".jsonc"),
  ],
  mutate: onePart({ ".jsonc": changeText([changeJson, changeJson], SITE_FILE_WORDS) }, ".jsonc"),
  read: async (parts, plan) => {
    const content = text(parts[".jsonc"]!);
    looksLikeSiteFile(content);
    const outcome = readSiteFile(content, "fuzz.jsonc");
    const codes = checkOutcome(outcome);
    if (!outcome.ok) return { end: "refused", codes };
    const { options } = mergeOptions(optionsOfSiteFile(outcome.value, "fuzz.jsonc"), {
      inputs: [],
    });
    const given = typeof options.profile === "object" ? options.profile : {};
    const profile = readProfile(JSON.stringify({ name: "own", ...given }), "fuzz.jsonc");
    const more = checkOutcome(profile);
    if (!profile.ok) return { end: "refused", codes: [...codes, ...more] };
    const { crs, rules, name } = options;
    return lawnWith(
      { crs, rules, name, profile: profile.value },
      plan,
      [...codes, ...more],
      "fuzz.jsonc",
    );
  },
};

const profileFile: Target = {
  id: "profile",
  weight: 2,
  seeds: () => [file(`${OWN}/profile.json`)],
  mutate: onePart({ ".json": changeText([changeJson, changeJson], SITE_FILE_WORDS) }, ".json"),
  read: async (parts, plan) => {
    const outcome = readProfile(text(parts[".json"]!), "fuzz.json");
    const codes = checkOutcome(outcome);
    if (!outcome.ok) return { end: "refused", codes };
    return lawnWith({ profile: outcome.value as Profile }, plan, codes, "fuzz.json");
  },
};

/** A sound lawn under the options that a case made. */
async function lawnWith(
  options: PlanOptions,
  plan: boolean,
  codes: readonly string[],
  name: string,
): Promise<Reached> {
  const { ".geojson": bytes } = lawn();
  const reached = await readSite(
    [
      { name: "lawn.geojson", bytes: bytes! },
      // What the options say is told with the file that said it.
      { name, bytes: bytesOf('{"type":"FeatureCollection","features":[]}') },
    ],
    options,
    plan,
  );
  return { ...reached, codes: [...codes, ...reached.codes] };
}

let sound: Parts | undefined;
const lawn = (): Parts => {
  sound ??= file(`${OWN}/lawn.geojson`);
  return sound;
};

/** A reference system as it stands after `--crs`: EPSG code, PROJ string, WKT. */
const crsText: Target = {
  id: "crs",
  weight: 5,
  seeds: () => [
    ...systemTexts(1).map((one) => ({ ".txt": bytesOf(one) })),
    { ".txt": bytesOf("EPSG:25830") },
    {
      ".txt": bytesOf(
        "+proj=lcc +lat_1=49 +lat_2=44 +lat_0=46.5 +lon_0=3 +x_0=700000 +y_0=6600000 +ellps=GRS80 +towgs84=0,0,0 +units=m +no_defs",
      ),
    },
  ],
  mutate: onePart({ ".txt": wkt }, ".txt"),
  read: async (parts, plan) => {
    const crs = parseCrsText(text(parts[".txt"]!));
    if (crs === undefined) return { end: "refused", codes: [] };
    return readSite([{ name: "points.csv", bytes: points()[".csv"]! }], { crs }, plan);
  },
};

let table: Parts | undefined;
const points = (): Parts => {
  table ??= file(`${OWN}/points.csv`);
  return table;
};

export const TARGETS: readonly Target[] = [
  format("geojson", 16, ".geojson", geojson, () => [
    ...["lawn", "passage", "broken", "metres", "bare"].map((name) =>
      file(`${OWN}/${name}.geojson`),
    ),
    ...["srs_name", "geometrycollection", "stringcoord"].map((name) =>
      file(`${IMPORT}/${name}.geojson`),
    ),
    file(`${IMPORT}/point_with_utf8bom.json`, ".geojson"),
  ]),
  format(
    "geojson-sequence",
    6,
    ".geojsonl",
    changeText([changeJsonLine, changeJsonLine], JSON_WORDS),
    () => [file(`${OWN}/lines.geojsonl`), file(`${OWN}/records.geojsons`, ".geojsonl")],
  ),
  format("kml", 12, ".kml", kml, () => [
    file(`${OWN}/lawn.kml`),
    ...[
      "extended_data",
      "geometries",
      "multigeometry_sibling",
      "placemark_in_root_and_subfolder",
      "placemark_with_kml_prefix",
      "simpledata",
      "tab_separated_coord_triplet",
      "truncated",
    ].map((name) => file(`${IMPORT}/${name}.kml`)),
  ]),
  format("kmz", 3, ".kmz", archive, () => [file(`${OWN}/garden.kmz`)]),
  format("gpx", 8, ".gpx", changeText([changeElements], XML_WORDS), () => [
    file(`${OWN}/garden.gpx`),
    file(`${IMPORT}/garden.gpx`),
  ]),
  format("shapefile", 14, ".shp", SHAPEFILE, () => [
    shapefile(`${OWN}/areas`),
    ...[
      "Stacks",
      "buggymultipoly",
      "latin1-property",
      "utf8-property",
      "multipatch",
      "polygonm_with_m",
      "lawns-z",
      "stakes-zm",
    ].map((name) => shapefile(`${IMPORT}/${name}`)),
  ]),
  format("shapefile-zip", 4, ".zip", archive, () => [
    file("tests/fixtures/formats/biscay-2154.zip"),
    zipped(shapefile(`${OWN}/areas`), "areas"),
    zipped(shapefile(`${IMPORT}/Stacks`), "Stacks"),
  ]),
  format(
    "gpkg",
    3,
    ".gpkg",
    changeBytes([
      ...BYTE_MUTATIONS,
      headOf(100),
      within(["GP\0"], 160),
      within(["GP\0"], 160),
      within(["CREATE TABLE", "gpkg_contents", "features"], 120),
      within(["\r\0", "\u0005\0", "\u0002\0"], 16),
    ]),
    () => [file(`${OWN}/garden.gpkg`), file(`${OWN}/lawns.gpkg`), file(`${OWN}/lawns.gpkg`)],
  ),
  format("fgb", 10, ".fgb", changeBytes([...BYTE_MUTATIONS, headOf(200), headOf(800)]), () => [
    file(`${IMPORT}/lawns.fgb`),
    file(`${IMPORT}/lawns-unindexed.fgb`),
    file(`${IMPORT}/stakes.fgb`),
  ]),
  format(
    "dxf",
    4,
    ".dxf",
    changeText([changeGroups, changeGroups], DXF_WORDS),
    () => [file(`${OWN}/garden.dxf`)],
    gridOptions,
  ),
  format(
    "survey",
    7,
    ".csv",
    changeText([changeCells, changeCells], TABLE_WORDS),
    () => [
      file(`${OWN}/points.csv`),
      file(`${OWN}/degrees.tsv`, ".csv"),
      file("tests/fixtures/survey/garden.csv"),
    ],
    gridOptions,
  ),
  format(
    "prj",
    7,
    ".shp",
    { ".shp": (bytes) => bytes, ".dbf": (bytes) => bytes, ".cpg": (bytes) => bytes, ".prj": wkt },
    () => systemTexts(1).map((one) => ({ ...shapefile(`${OWN}/areas`), ".prj": bytesOf(one) })),
  ),
  crsText,
  siteFile,
  profileFile,
  ...terrainTargets,
  checkTarget,
  breakTarget,
  compareTarget,
  convertTarget,
];
