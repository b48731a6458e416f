/**
 * GDAL, which shares no code with this program, opens what is written: reference system, counts, types,
 * attributes, places, lengths and areas. Skipped where `ogr2ogr` is not installed.
 */
import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Feature, FeatureCollection, Geometry, Position } from "geojson";
import { afterAll, describe, expect, it } from "vitest";
import type { PlanFeature } from "../../../src/export/exchange/drawn-plan.ts";
import type { FormatName } from "../../../src/export/exchange/formats.ts";
import { summaryOf } from "../../../src/export/summary.ts";
import { planKindOf, shortNames } from "../../../src/model/plan-fields.ts";
import { exported, gardenPlan } from "./plans.ts";

function gdalVersion(): string | undefined {
  try {
    return execFileSync("ogr2ogr", ["--version"], { encoding: "utf8" });
  } catch {
    return undefined;
  }
}
const gdal = gdalVersion();
if (gdal === undefined) console.warn("GDAL is not installed: what it reads is not compared.");

const folder = mkdtempSync(join(tmpdir(), "pegline-gdal-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const run = (program: string, ...args: string[]) =>
  execFileSync(program, args, { encoding: "utf8", maxBuffer: 2 ** 26, stdio: "pipe" });

/** The garden in a format, on disk; the path as GDAL takes it. */
async function written(format: FormatName, outCrs?: string | number): Promise<string> {
  const { features, grid } = await gardenPlan();
  const { files } = await exported(features, grid, format, outCrs);
  const inside = join(folder, `${format}-${outCrs ?? "default"}`.replace(/\W/g, "-"));
  execFileSync("mkdir", ["-p", inside]);
  for (const file of files) writeFileSync(join(inside, file.name), file.bytes);
  const path = join(inside, files[0]!.name);
  return path.endsWith(".zip") ? `/vsizip/${path}` : path;
}

/** Names of the layers, with the type that GDAL gives them. */
const layersIn = (path: string): string[] =>
  run("ogrinfo", "-ro", "-q", path)
    .split("\n")
    .map((line) => /^\d+: (.*?)(?: \([A-Z].*\))?$/.exec(line)?.[1] ?? "")
    .filter((name) => name !== "" && name !== "layer_styles");

/** All features of a layer in degrees of WGS 84, by GDAL's own projections. */
function readByGdal(
  path: string,
  layer: string,
  more: readonly string[] = [],
): Feature<Geometry | null>[] {
  const to = ["-f", "GeoJSON", "-lco", "COORDINATE_PRECISION=10", "-t_srs", "EPSG:4326"];
  const text = run("ogr2ogr", ...to, ...more, "/vsistdout/", path, layer);
  return (JSON.parse(text) as FeatureCollection<Geometry | null>).features;
}

const METRES = 111_320;
const apartM = (a: Position, b: Position) =>
  METRES * Math.hypot((a[0]! - b[0]!) * Math.cos((a[1]! * Math.PI) / 180), a[1]! - b[1]!);

function positionsOf(geometry: Geometry): Position[] {
  if (geometry.type === "Point") return [geometry.coordinates];
  const depth = { LineString: 0, MultiLineString: 1, Polygon: 1, MultiPolygon: 2 }[
    geometry.type as "Polygon"
  ];
  return (geometry as { coordinates: unknown[] }).coordinates.flat(depth as 1) as Position[];
}

/** Farthest that any position of one is from the nearest of the other. */
const apartAtMostM = (a: Geometry, b: Geometry) =>
  Math.max(
    ...positionsOf(a).map((at) => Math.min(...positionsOf(b).map((other) => apartM(at, other)))),
  );

/** A value as any of these formats has it. */
const plain = (value: unknown) =>
  value === null || value === undefined || value === ""
    ? null
    : typeof value === "object"
      ? JSON.stringify(value)
      : value;

/** Truth values are 1 and 0, T and F, true and false; numbers may be text. */
function sameValue(own: unknown, read: unknown): boolean {
  const [a, b] = [plain(own), plain(read)];
  if (typeof own === "boolean") return (own ? /^(1|T|true)$/ : /^(0|F|false)$/).test(String(b));
  return typeof a === "number" ? b !== null && Math.abs(a - Number(b)) < 1e-9 : a === b;
}

function compare(
  own: readonly PlanFeature[],
  gdals: readonly Feature<Geometry | null>[],
  format: FormatName,
) {
  expect(gdals).toHaveLength(own.length);
  const short = shortNames([...new Set(own.flatMap(({ properties }) => Object.keys(properties)))]);
  for (const [i, { geometry, properties }] of own.entries()) {
    const other = gdals[i]!;
    expect(other.geometry === null, "null geometry").toBe(geometry === null);
    if (geometry && other.geometry) {
      expect(other.geometry.type.replace("Multi", "")).toBe(geometry.type.replace("Multi", ""));
      expect(apartAtMostM(geometry, other.geometry)).toBeLessThan(0.001);
      expect(apartAtMostM(other.geometry, geometry)).toBeLessThan(0.001);
    }
    if (format === "gpx" || format === "dxf") continue;
    for (const [name, value] of Object.entries(properties)) {
      const named = format === "shapefile" ? short.get(name)! : name;
      // A placemark's name is its label; readers that do not mind capitals have one field for both.
      const read = other.properties?.[named] ?? (name === "name" ? other.properties?.Name : null);
      const isCut = format === "shapefile" && JSON.stringify(value).length > 250;
      if (!isCut) expect(sameValue(value, read), `${name}: ${value} ${read}`).toBe(true);
    }
  }
}

describe.skipIf(gdal === undefined)("GDAL reads", () => {
  for (const format of ["gpkg", "shapefile"] as const) {
    for (const outCrs of format === "gpkg" ? [undefined, "site-grid"] : ["EPSG:32626"]) {
      it(`${format} in ${outCrs ?? "WGS 84"}: a layer a kind, every feature in its place`, async () => {
        const path = await written(format, outCrs);
        const { features } = await gardenPlan();
        const kinds = [...new Set(features.map(({ properties }) => String(properties.kind)))];
        expect(layersIn(path)).toEqual(kinds.map((kind) => kind.replaceAll("-", "_")));
        for (const kind of kinds) {
          const own = features.filter(({ properties }) => properties.kind === kind);
          compare(own, readByGdal(path, kind.replaceAll("-", "_")), format);
        }
      });
    }
  }

  it("FlatGeobuf: one layer of mixed shapes, without those that have no place", async () => {
    const { features } = await gardenPlan();
    const own = features.filter(({ geometry }) => geometry !== null);
    for (const outCrs of [undefined, "EPSG:32626"]) {
      compare(own, readByGdal(await written("flatgeobuf", outCrs), "plan"), "flatgeobuf");
    }
  });

  it("CSV: shapes from WKT, types from the .csvt, the system from the .prj", async () => {
    const { features } = await gardenPlan();
    for (const outCrs of [undefined, "EPSG:32626"]) {
      const path = await written("csv", outCrs);
      compare(features, readByGdal(path, "plan"), "csv");
      const about = run("ogrinfo", "-so", path, "plan");
      expect(about).toContain("length_m: Real");
      expect(about).toContain(outCrs === undefined ? "GEOGCRS" : "UTM zone 26N");
    }
  });

  for (const format of ["kml", "kmz"] as const) {
    it(`${format}: a layer a folder, every placemark with its attributes`, async () => {
      const path = await written(format);
      const { features } = await gardenPlan();
      // By the path in folders, as GDAL counts folders of one name.
      const layers = [...new Set(layersIn(path))].filter((layer) => !layer.startsWith("Loop "));
      const read = layers.flatMap((layer) => readByGdal(path, layer));
      expect(read).toHaveLength(features.length);
      const loopOf = (one: { properties: Readonly<Record<string, unknown>> | null }) =>
        typeof one.properties?.loop === "string" ? one.properties.loop : "~";
      const inFolders = (all: readonly PlanFeature[]) => {
        const kinds = [...new Set(all.map(({ properties }) => properties.kind))];
        return [...new Set(all.map(loopOf))]
          .sort()
          .flatMap((loop) =>
            kinds.flatMap((kind) =>
              all.filter((one) => loopOf(one) === loop && one.properties.kind === kind),
            ),
          );
      };
      compare(inFolders(features), read, format);
    });
  }

  it("GPX: waypoints and tracks", async () => {
    const path = await written("gpx");
    const { features } = await gardenPlan();
    const points = features.filter(({ geometry }) => geometry?.type === "Point");
    compare(points, readByGdal(path, "waypoints"), "gpx");
    const lines = features.filter(
      ({ geometry, properties }) =>
        geometry?.type === "LineString" || properties.kind === "exclusion-loop",
    );
    const tracks = readByGdal(path, "tracks");
    expect(tracks.map((track) => track.properties?.type)).toEqual(
      lines.map(({ properties }) => properties.kind),
    );
    for (const [i, { geometry }] of lines.entries()) {
      expect(apartAtMostM(geometry!, tracks[i]!.geometry!)).toBeLessThan(0.001);
    }
  });

  it("DXF: entities on a layer a style, in the system that is asked for", async () => {
    const { features } = await gardenPlan();
    const path = await written("dxf", "EPSG:32626");
    const read = readByGdal(path, "entities", ["-s_srs", "EPSG:32626"]);
    for (const kind of new Set(features.map(({ properties }) => String(properties.kind)))) {
      const own = features.filter(
        ({ geometry, properties }) => properties.kind === kind && geometry !== null,
      );
      const drawn = read.filter(({ properties }) =>
        new RegExp(`^${kind.toUpperCase()}(-MOW|-DRIVE|-SHUT|-INFO|-WARNING|-ERROR)?$`).test(
          properties?.Layer,
        ),
      );
      expect(drawn, kind).toHaveLength(own.length);
      for (const { geometry } of own) {
        const nearest = drawn.map((one) => apartAtMostM(geometry!, one.geometry!));
        expect(Math.min(...nearest)).toBeLessThan(0.001);
      }
    }
    const texts = read.filter(({ properties }) => properties?.Layer === "PEG-TEXT");
    const numbers = features.flatMap(({ properties }) =>
      properties.kind === "peg" ? [String(properties.number)] : [],
    );
    expect(texts.map(({ properties }) => properties?.Text)).toEqual(numbers);
  });

  it("lengths, areas and counts that equal the summary", async () => {
    const { result } = await gardenPlan();
    const summary = summaryOf(result);
    const path = await written("gpkg", "site-grid");
    const sql = (query: string) =>
      Number(
        /= ([\d.]+)/.exec(
          run("ogrinfo", "-ro", "-q", "-dialect", "sqlite", "-sql", query, path),
        )?.[1],
      );
    const areas = (layer: string) =>
      run(
        "ogrinfo",
        "-ro",
        "-q",
        "-dialect",
        "ogrsql",
        "-sql",
        `SELECT OGR_GEOM_AREA FROM ${layer}`,
        path,
      )
        .split("\n")
        .map((line) => Number(/OGR_GEOM_AREA \(Real\) = ([\d.]+)/.exec(line)?.[1] ?? 0))
        .reduce((a, b) => a + b, 0);
    expect(sql("SELECT COUNT(*) FROM peg")).toBe(summary.totals.pegs);
    expect(sql("SELECT COUNT(*) FROM boundary_wire")).toBe(summary.loops.length);
    const stated = sql("SELECT SUM(length_m) FROM boundary_wire");
    expect(stated).toBeCloseTo(summary.totals.wire_m, 3);
    // Written to 0.1 mm a vertex: a tenth of a square decimetre over the edges of a garden.
    expect(areas("mown_area")).toBeCloseTo(summary.totals.mown_m2, 2);
    expect(areas("hand_trim")).toBeCloseTo(summary.totals.hand_trim_m2, 2);
    expect(areas("cut_off_area")).toBeCloseTo(summary.totals.cut_off_m2, 2);
    const { geometry } = readByGdal(path, "boundary_wire", [
      "-t_srs",
      SITE_GRID_OF(result.plan.grid),
    ])[0]!;
    const line = positionsOf(geometry!);
    const lengthM = line
      .slice(1)
      .reduce((sum, at, i) => sum + Math.hypot(at[0]! - line[i]![0]!, at[1]! - line[i]![1]!), 0);
    expect(lengthM).toBeCloseTo(summary.loops[0]!.length_m, 3);
  });

  it("knows the systems by their numbers and units", async () => {
    const { features, grid } = await gardenPlan();
    expect(features.some(({ properties }) => planKindOf(properties) === undefined)).toBe(false);
    expect(grid.origin[0]).toBeLessThan(-28);
    const about = run("ogrinfo", "-so", await written("gpkg", "EPSG:32626"), "peg");
    expect(about).toContain('ID["EPSG",32626]');
    const own = run("ogrinfo", "-so", await written("gpkg", "site-grid"), "peg");
    expect(own).toContain("pegline site grid");
    expect(own).toMatch(/Scale factor at natural origin",1,/);
  });
});

const SITE_GRID_OF = ({ projString }: { readonly projString: string }) => projString;
