import { existsSync, readdirSync, readFileSync } from "node:fs";
import proj4 from "proj4";
import { describe, expect, it } from "vitest";
import { epsgRegistry } from "../../cli/epsg-registry.ts";
import { mendDefinition } from "../../src/crs/mend-definition.ts";
import { parseProjection } from "../../src/crs/projection.ts";

/**
 * The cases that PROJ tests itself with (test/gie of OSGeo/PROJ, MIT; format in its docs/source/apps/gie.rst):
 * one operation, then inputs with what must come out, within a tolerance.
 */
const FOLDER = "../shared/data/reference/proj";
const FILES = [
  "builtins.gie",
  "more_builtins.gie",
  "ellipsoid.gie",
  "4D-API_cs2cs-style.gie",
  "DHDN_ETRS89.gie",
  "GDA.gie",
  "axisswap.gie",
  "epsg_no_grid.gie",
  "unitconvert.gie",
];

interface Case {
  readonly operation: string;
  readonly accept: readonly number[];
  readonly expected: readonly number[];
  readonly toleranceM: number;
  readonly inverse: boolean;
  readonly line: string;
}

function metresOf(text: string): number {
  const [, number, unit = "mm"] = /([\d.eE+-]+)\s*(\w+)?/.exec(text) ?? [];
  const units: Record<string, number> = {
    mm: 1e-3,
    cm: 1e-2,
    m: 1,
    um: 1e-6,
    nm: 1e-9,
    deg: 111_320,
  };
  return Number(number) * (units[unit] ?? Number.NaN);
}

function casesIn(text: string, file: string): Case[] {
  const cases: Case[] = [];
  let [operation, toleranceM, inverse] = ["", 0.0005, false];
  let accept: number[] = [];
  let within = false;
  let begun = "";
  for (const [index, raw] of text.split("\n").entries()) {
    if (/\\\s*$/.test(raw)) {
      begun += `${raw.replace(/\\\s*$/, "")} `;
      continue;
    }
    const line = (begun + raw).replace(/#.*/, "").trim();
    begun = "";
    if (/^<gie/.test(line)) within = true;
    if (/^<\/gie/.test(line)) within = false;
    if (!within) continue;
    const [word = "", ...rest] = line.split(/\s+/);
    const value = rest.join(" ");
    if (word === "operation") {
      [operation, toleranceM, inverse] = [value, 0.0005, false];
    } else if (word === "crs_src") operation = "";
    else if (word === "tolerance") toleranceM = metresOf(value);
    else if (word === "direction") inverse = value === "inverse";
    else if (word === "accept") accept = rest.map(Number);
    else if (word === "expect" && rest[0] !== "failure") {
      const expected = rest.map(Number);
      cases.push({
        operation,
        accept,
        expected,
        toleranceM,
        inverse,
        line: `${file}:${index + 1}`,
      });
    }
  }
  return cases;
}

/** Steps that change units, axes, frames or heights, or make no map: no projection of a plan. */
const NO_PROJECTIONS = new Set(
  `affine axisswap cart defmodel deformation geocent geogoffset gridshift helmert hgridshift horner
  latlong latlon longlat lonlat molobadekas molodensky noop ob_tran pop push s2 set tinshift topocentric
  unitconvert utm_ vertoffset vgridshift xyzgridshift`.split(/\s+/),
);

const SWITCHES =
  /\+?(inv|axis|geoc|over|guam|hyperbolic|approx|algo|R_|lat_t|lon_[12]|ns|n=|orient|mode|w=|sweep|tilt|azi|theta|bearing|variant)\b/;

/** Why a case does not apply; undefined where it is one projection on an ellipsoid that proj4 has. */
function reasonNot({ operation, accept, expected }: Case): string | undefined {
  const method = /proj *= *(\w+)/.exec(operation)?.[1];
  if (method === undefined)
    return "from one EPSG code to another, with axes as the register has them";
  if (/pipeline/.test(operation)) return "pipeline of several steps";
  if (NO_PROJECTIONS.has(method)) return "no projection: units, axes, frames, datum shifts";
  if (proj4.Proj.projections.get(method) === undefined) return "projection that proj4 has not";
  if (SWITCHES.test(operation)) return "switch of PROJ that no survey's definition has";
  const numbers = [...accept.slice(0, 2), ...expected.slice(0, 2)];
  if (numbers.length < 4 || !numbers.every(Number.isFinite)) return "coordinates not plain numbers";
  return undefined;
}

/** The register's definition where a step names a code, else the step itself. */
function definitionOf(step: string): string | undefined {
  const code = /init=epsg:(\d+)/i.exec(step)?.[1];
  const text = code === undefined ? step : epsgRegistry(Number(code))?.proj4;
  return text?.replace(/\+(no_defs?|wktext|inv)\b/g, "").trim();
}

/**
 * A pipeline from degrees to one projection or back, as the projection alone: the form of the test
 * points of the IOGP's GIGS (Geospatial Integrity of Geoscience Software), whose systems are in the register.
 */
function withoutPipeline(one: Case): Case {
  const steps = one.operation.split(/\+?step\b/).slice(1);
  if (steps.length !== 2 || !/\binv\b/.test(steps[0]!) || /\binv\b/.test(steps[1]!)) return one;
  const [from, to] = steps.map(definitionOf);
  if (from === undefined || to === undefined) return one;
  const isDegrees = (text: string) => /proj=(longlat|latlong)/.test(text);
  if (isDegrees(from) === isDegrees(to)) return one;
  const operation = isDegrees(from) ? to : from;
  return { ...one, operation, inverse: isDegrees(from) ? one.inverse : !one.inverse };
}

/** How far our inverse lies from the expected place, metres; NaN where it has none. */
function apartM(one: Case): number {
  const words = one.operation
    .split(/\s+/)
    .map((word) => (word.startsWith("+") ? word : `+${word}`));
  const text = words.filter((word) => word !== "+").join(" ");
  const mended = mendDefinition(/\+(ellps|a|R|datum)=/.test(text) ? text : `${text} +ellps=GRS80`);
  if ("unknown" in mended) return Number.NaN;
  const { toOwnDegrees, semiMajorM } = parseProjection(mended.definition);
  const [lonLat, xy] = one.inverse ? [one.expected, one.accept] : [one.accept, one.expected];
  const [lon, lat] = toOwnDegrees(xy[0]!, xy[1]!);
  const east = (((lon - lonLat[0]! + 540) % 360) - 180) * Math.cos((lonLat[1]! * Math.PI) / 180);
  return Math.hypot(east, lat - lonLat[1]!) * (Math.PI / 180) * semiMajorM;
}

/** Cases in all; those that do not apply, by reason. */
const TOTAL = 3168;
const NOT_APPLICABLE: Record<string, number> = {
  "coordinates not plain numbers": 12,
  "from one EPSG code to another, with axes as the register has them": 8,
  "no projection: units, axes, frames, datum shifts": 290,
  "pipeline of several steps": 168,
  "projection that proj4 has not": 1256,
  "switch of PROJ that no survey's definition has": 69,
};

/** Passed and failed by method; `gie-failures.json` names each failure by file and line, with the reason. */
const COUNTS: Record<string, [passed: number, failed: number]> = {
  aea: [44, 1],
  aeqd: [38, 1],
  bonne: [16, 12],
  cass: [52, 1],
  cea: [10, 8],
  eck6: [8, 0],
  eqc: [14, 20],
  eqdc: [16, 0],
  etmerc: [176, 0],
  geos: [16, 0],
  gnom: [19, 23],
  krovak: [8, 4],
  laea: [46, 0],
  lcc: [111, 0],
  merc: [121, 10],
  mill: [8, 0],
  moll: [12, 0],
  nzmg: [0, 8],
  omerc: [46, 17],
  ortho: [36, 32],
  poly: [42, 0],
  qsc: [16, 0],
  robin: [8, 8],
  sinu: [16, 0],
  somerc: [28, 13],
  stere: [26, 0],
  sterea: [68, 4],
  tmerc: [12, 41],
  utm: [102, 6],
  vandg: [10, 0],
  eqearth: [18, 13],
};

/** The cases come with a larger collection of data, which not every checkout has beside it. */
const isHere = existsSync(FOLDER);
const reason = isHere ? "" : " (skipped: PROJ's test cases are not beside this checkout)";

describe(`PROJ's own test cases, where proj4 has the operation${reason}`, () => {
  const gigs = existsSync(`${FOLDER}/gigs`)
    ? readdirSync(`${FOLDER}/gigs`).map((name) => `gigs/${name}`)
    : [];
  // The body of a skipped suite is run all the same: it must not open what is not there.
  const all = (isHere ? [...FILES, ...gigs] : []).flatMap((file) =>
    casesIn(readFileSync(`${FOLDER}/${file}`, "utf8"), file),
  );
  const cases = all.map(withoutPipeline);
  const fit = cases.filter((one) => reasonNot(one) === undefined);

  it.skipIf(!isHere)("says of each other one why it does not apply", () => {
    const reasons: Record<string, number> = {};
    for (const one of cases) {
      const reason = reasonNot(one);
      if (reason !== undefined) reasons[reason] = (reasons[reason] ?? 0) + 1;
    }
    expect([all.length, reasons]).toEqual([TOTAL, NOT_APPLICABLE]);
  });

  it.skipIf(!isHere)("passes by method as counted here", () => {
    const counts: Record<string, [passed: number, failed: number]> = {};
    const failed: Record<string, string[]> = {};
    for (const one of fit) {
      const method = /proj=(\w+)/.exec(one.operation)![1]!;
      counts[method] ??= [0, 0];
      let apart = Number.NaN;
      try {
        apart = apartM(one);
      } catch {
        // A projection that proj4 refuses to set up counts as failed.
      }
      const passes = apart <= Math.max(0.001, one.toleranceM);
      counts[method][passes ? 0 : 1]++;
      failed[method] ??= [];
      if (!passes) failed[method].push(one.line);
    }
    const sum = (k: 0 | 1) => Object.values(counts).reduce((total, one) => total + one[k], 0);
    const others = all.length - fit.length;
    const ofGigs = fit.filter(({ line }) => line.startsWith("gigs/"));
    console.info(`PROJ, GIGS: ${ofGigs.length} apply.`);
    console.info(`PROJ: ${sum(0)} passed, ${sum(1)} failed, ${others} not applicable.`);
    expect(counts).toEqual(COUNTS);
    const known = JSON.parse(readFileSync("tests/fixtures/crs/gie-failures.json", "utf8"));
    for (const [method, lines] of Object.entries(failed)) {
      const named = Object.entries((known[method]?.lines ?? {}) as Record<string, number[]>);
      const expected = named.flatMap(([file, list]) => list.map((line) => `${file}:${line}`));
      expect(lines, method).toEqual(expected);
    }
  });
});
