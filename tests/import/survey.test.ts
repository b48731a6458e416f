import type { LineString, Position } from "geojson";
import { describe, expect, it } from "vitest";
import { readInputs } from "../../src/import/read-inputs.ts";
import { degreesOfText, numberOfText } from "../../src/import/survey/numbers.ts";
import { inputAt, layersOf, problemOf, textInput } from "./fixtures.ts";

const lineOf = (geometry: unknown) => (geometry as LineString).coordinates;

function areaOf(ring: readonly Position[]): number {
  let twice = 0;
  const [x0, y0] = ring[0] as [number, number];
  for (let i = 1; i < ring.length; i++) {
    const [a, b] = [ring[i - 1]!, ring[i]!];
    twice += (a[0]! - x0) * (b[1]! - y0) - (b[0]! - x0) * (a[1]! - y0);
  }
  return Math.abs(twice) / 2;
}

describe("survey points", async () => {
  const { layers, codes } = await layersOf(inputAt("tests/fixtures/survey/garden.csv"));
  const named = (name: string) => layers.find(({ layer }) => layer === name)!;

  it("makes a layer of each code, in the unit that the headings say", () => {
    expect(layers.map(({ layer }) => layer)).toEqual([
      "LAWN",
      "TREE",
      "BED",
      "WALL",
      "CP",
      "STATION",
      "garden",
    ]);
    expect(layers.every(({ crs, unitM }) => crs.kind === "none" && unitM === 1)).toBe(true);
    expect([...new Set(codes)].sort()).toEqual(["CURVES_AS_CHORDS", "SURVEY_DECIMAL_COMMA"]);
  });

  it("closes a ring by its control word, its arc within 1 mm: 40 m × 20 m and half a disc", () => {
    const [lawn] = named("LAWN").features;
    const ring = lineOf(lawn?.geometry);
    expect(ring[0]).toEqual(ring.at(-1));
    // A chord of sagitta s lacks two thirds of s of the area along it (parabola, close enough).
    const missing = 800 + (Math.PI * 100) / 2 - areaOf(ring);
    expect(missing).toBeGreaterThan(0);
    expect(missing).toBeLessThan(0.001 * Math.PI * 10);
    expect(ring).toContainEqual([500050, 4900010, 12.55]);
    expect(lawn?.properties).toMatchObject({ code: "LAWN1", numbers: "1–5" });
  });

  it("keeps trees and the like as points, with attributes and heights", () => {
    expect(named("TREE").features.map(({ geometry }) => geometry?.type)).toEqual([
      "Point",
      "Point",
    ]);
    expect(named("TREE").features[0]?.properties).toMatchObject({
      number: "6",
      diameter_m: "0,40",
    });
    expect(named("CP").features[0]?.properties.note).toBe("rivet");
    expect(
      (named("garden").features[0]!.geometry as { coordinates: Position }).coordinates,
    ).toEqual([500002, 4900002]);
  });

  it("joins consecutive points of a code, and those of a numbered string wherever they stand", () => {
    expect(lineOf(named("BED").features[0]?.geometry)).toHaveLength(5);
    expect(lineOf(named("WALL").features[0]?.geometry).map(([x]) => x)).toEqual([500000, 500045]);
  });

  it.each([
    ["comma", "code,y,x\nBED,2,1\nBED,2,5\n"],
    ["tab", "x\ty\tcode\n1\t2\tBED\n5\t2\tBED\n"],
    ["quoted decimal comma", '"E","N","code"\n"1,0","2,0","BED"\n"5,0","2,0","BED"\n'],
    ["lines above the headings", "Job 7\n\nNorthing;Easting;Code\n2;1;BED\n2;5;BED\n"],
  ])("reads columns in any order: %s", async (_, text) => {
    const outcome = await layersOf(textInput("p.csv", text));
    expect(lineOf(outcome.layers[0]?.features[0]?.geometry)).toEqual([
      [1, 2],
      [5, 2],
    ]);
  });

  it("reads degrees, minutes and seconds, and says of which datum it takes them", async () => {
    const text = "lat;lon;code\n51°30'00\"N;0°07'12\"W;TREE\n51,5;-0,12;TREE\n";
    const outcome = await layersOf(textInput("p.csv", text));
    expect(outcome.codes).toContain("SURVEY_DEGREES_TAKEN");
    expect(outcome.layers[0]?.crs.kind).toBe("wgs84");
    for (const { geometry } of outcome.layers[0]!.features) {
      const [lon, lat] = (geometry as { coordinates: Position }).coordinates;
      expect(lon).toBeCloseTo(-0.12, 12);
      expect(lat).toBeCloseTo(51.5, 12);
    }
  });

  it("takes other code words where they are given", async () => {
    const text = "e;n;code\n0;0;BED auf\n1;0;BED\n1;1;BED zu\n3;3;BED\n9;9;FELS\n8;8;FELS\n";
    const surveyCodes = { start: ["auf"], close: ["zu"], points: ["fels"] };
    const outcome = await readInputs([textInput("p.csv", text)], { surveyCodes });
    if (!outcome.ok) throw new Error(outcome.problem.message);
    const [bed, rock] = outcome.value;
    expect(bed?.features.map(({ geometry }) => geometry?.type)).toEqual(["LineString", "Point"]);
    expect(lineOf(bed?.features[0]?.geometry)).toHaveLength(4);
    expect(rock?.features).toHaveLength(2);
  });

  it("leaves out a row without a place, with an error, and says what is wrong with a table", async () => {
    const { findings } = await layersOf(textInput("p.csv", "nr;e;n\n1;5;6\n2;;6\n"));
    expect(findings.find(({ code }) => code === "SURVEY_POINT_BROKEN")).toMatchObject({
      severity: "error",
      feature: "2",
    });
    expect((await problemOf(textInput("p.csv", "1;5;6\n2;7;6\n"))).code).toBe("SURVEY_NO_HEADINGS");
    expect((await problemOf(textInput("p.csv", "nr;e;n\n"))).code).toBe("SURVEY_NO_POINTS");
  });

  it("warns of an arc that has no end", async () => {
    const { codes } = await layersOf(textInput("p.csv", "e;n;code\n0;0;BED\n1;1;BED A\n"));
    expect(codes).toContain("SURVEY_ARC_WITHOUT_END");
  });
});

describe("numbers as people write them", () => {
  it.each([
    ["512345.67", 512345.67],
    ["512345,67", 512345.67],
    ["1.234.567,89", 1234567.89],
    ["1,234,567.89", 1234567.89],
    ["6 175 123,45", 6175123.45],
    ["-0,12", -0.12],
    ["", Number.NaN],
    ["12 m", Number.NaN],
  ])("%s", (text, value) => {
    expect(numberOfText(text)).toBe(value);
  });

  it.each([
    ["51.5", 51.5],
    ["51°30'", 51.5],
    ["51 30 36 S", -51.51],
    ["W 0d7m12s", -0.12],
    ["51°75'", Number.NaN],
  ])("%s in degrees", (text, value) => {
    const degrees = degreesOfText(text);
    if (Number.isNaN(value)) expect(degrees).toBeNaN();
    else expect(degrees).toBeCloseTo(value, 12);
  });
});
