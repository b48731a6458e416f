/** Bad input that tests/cli does not try: one code, a place and a remedy, and no plan. */
import { readFile } from "node:fs/promises";
import { describe, expect, it } from "vitest";
import type { InputFile } from "../../src/index.ts";
import { attempt, geojsonInput } from "../support/planning.ts";
import { Pen, rectangle } from "../support/sites.ts";

const text = (name: string, content: string): InputFile => ({
  name,
  bytes: new TextEncoder().encode(content),
});
const SHAPES = new URL("../../fixtures/demo/shapefile/", import.meta.url);

function kml(coordinates: string): InputFile {
  return text(
    "site.kml",
    `<kml xmlns="http://www.opengis.net/kml/2.2"><Placemark><name>Lawn</name><Polygon><outerBoundaryIs><LinearRing><coordinates>${coordinates}</coordinates></LinearRing></outerBoundaryIs></Polygon></Placemark></kml>`,
  );
}

function swapped(): InputFile {
  const [feature] = new Pen({ origin: [151.2, -33.9] }).lawn(rectangle(20, 20)).drawn.features;
  const geometry = feature!.geometry as { type: "Polygon"; coordinates: number[][][] };
  const coordinates = geometry.coordinates.map((ring) => ring.map(([lon, lat]) => [lat!, lon!]));
  return geojsonInput([{ ...feature!, geometry: { type: "Polygon", coordinates } }]);
}

describe("bad input is refused with a code and a remedy", () => {
  it.each<[string, InputFile]>([
    [
      "half a GeoJSON",
      text("half.geojson", '{"type":"FeatureCollection","features":[{"type":"Fea'),
    ],
    [
      "a number that is none in GeoJSON",
      text("nan.geojson", '{"type":"Polygon","coordinates":[[[NaN,47],[1,47],[1,48],[NaN,47]]]}'),
    ],
    [
      "null for coordinates",
      text(
        "null.geojson",
        '{"type":"Polygon","coordinates":[[[null,null],[null,null],[null,null],[null,null]]]}',
      ),
    ],
    ["coordinates NaN in KML", kml("NaN,NaN NaN,NaN NaN,NaN NaN,NaN")],
    ["longitude and latitude swapped", swapped()],
    ["an empty FeatureCollection", geojsonInput([])],
    ["a JSON array", text("list.geojson", "[1, 2, 3]")],
  ])("%s", async (_, input) => {
    const made = await attempt([input]);
    expect(made).toMatchObject({
      ok: false,
      problem: { kind: "input", code: expect.stringMatching(/^[A-Z]+(_[A-Z0-9]+)*$/) },
    });
    if (made.ok) return;
    expect(made.problem.message.length).toBeGreaterThan(20);
    expect(made.problem.remedy.length).toBeGreaterThan(10);
  });

  it("a truncated .shp", async () => {
    const part = (ending: string) => readFile(new URL(`areas.${ending}`, SHAPES));
    const whole = await part("shp");
    for (const share of [0.01, 0.3, 0.9]) {
      const bytes = whole.subarray(0, Math.floor(share * whole.length));
      const siblings = { ".dbf": await part("dbf"), ".prj": await part("prj") };
      const made = await attempt([{ name: "areas.shp", bytes, siblings }]);
      const said = made.ok ? made.summary.findings : [made.problem, ...made.findings];
      expect(said.map((one) => one.code).join()).toMatch(/SHP|SHAPEFILE|TRUNCATED|RECORD/);
    }
  });

  it("a .shp without .dbf is planned from its shapes, and says what is missing", async () => {
    const siblings = { ".prj": await readFile(new URL("areas.prj", SHAPES)) };
    const bytes = await readFile(new URL("areas.shp", SHAPES));
    const made = await attempt([{ name: "areas.shp", bytes, siblings }]);
    const said = made.ok ? made.summary.findings : [made.problem, ...made.findings];
    expect(said.map((one) => one.code).join()).toMatch(/DBF/);
  });
});
