import { readFile } from "node:fs/promises";
import { describe, expect, it } from "vitest";
import { looksLikeSiteFile, readSiteFile } from "../../src/sitefile/read-site-file.ts";
import { siteJsonSchema } from "../../src/sitefile/site-file.ts";

/** The problem that a text is refused with. */
function refused(text: string) {
  const outcome = readSiteFile(text, "pegline.json");
  if (outcome.ok) throw new Error("was not refused");
  expect(outcome.problem).toMatchObject({ kind: "usage", file: "pegline.json" });
  return outcome.problem;
}

/** A site file with one wrong thing on line 3. */
const wrong = (line: string) => `{\n  "inputs": ["a.geojson"],\n  ${line}\n}\n`;

it("docs/schema/site.schema.json is current (npm run schema)", async () => {
  const published = JSON.parse(await readFile("docs/schema/site.schema.json", "utf8"));
  expect(published).toEqual(siteJsonSchema());
});

describe("a site file", () => {
  it("may have comments, trailing commas and a byte order mark", () => {
    const text =
      '\uFEFF{\n// where the lawn is\n"inputs": ["a.geojson",], /* ! */ "crs": 27700,\n}';
    const outcome = readSiteFile(text, "pegline.json");
    expect(outcome.ok && outcome.value).toEqual({ inputs: ["a.geojson"], crs: 27700 });
  });

  it("is told from GeoJSON, profiles and plain lists", () => {
    expect(looksLikeSiteFile('{"inputs": ["a.shp"]} // yes')).toBe(true);
    expect(looksLikeSiteFile('{"type": "FeatureCollection", "features": []}')).toBe(false);
    expect(looksLikeSiteFile('{"name": "mine", "setin_mm": 3}')).toBe(false);
    expect(looksLikeSiteFile("[1, 2]")).toBe(false);
    expect(looksLikeSiteFile("<html>")).toBe(false);
  });
});

describe("broken JSON is refused with its line", () => {
  it.each([
    ["a missing comma", '{\n "inputs": ["a"]\n "crs": 27700\n}', 3, "comma expected"],
    ["nothing at all", "", 1, ""],
    ["a file that is cut short", '{\n "inputs": [\n "a",', 3, "expected"],
    ["a key that stands twice", '{\n"crs": 27700,\n"crs": 32632\n}', 3, "twice"],
    ["a key that would change all objects", '{\n"__proto__": {"inputs": []}}', 2, "no key"],
    ["nesting without end", `{"inputs": ${"[".repeat(200_000)}`, 1, "deep"],
    ["Windows line ends", '{\r\n"inputs": ["a"],\r\n"crs" 1\r\n}', 3, "expected"],
  ])("%s", (_, text, line, words) => {
    const problem = refused(text);
    expect(problem.code).toBe("SITE_FILE_BROKEN");
    expect(problem.line).toBe(line);
    expect(problem.message).toContain(words);
  });
});

describe("a wrong key or value is refused with line, path, what was expected and what is near", () => {
  it.each([
    ['"lawns": { "lest_area_m2": 500 }', "lawns.lest_area_m2", "no key", "least_area_m2"],
    ['"lawns": { "least_area_m2": "big" }', "lawns.least_area_m2", "a number", ""],
    ['"lawns": { "least_area_m2": -5 }', "lawns.least_area_m2", "at least 0", ""],
    ['"least_area_m2": 500', "least_area_m2", "no key", "lawns.least_area_m2"],
    ['"lawns": "al"', "lawns", '"all"', "all"],
    ['"lawns": { "is": "grass" }', "lawns.is", "needs field", "field"],
    ['"roles": [{ "layer": "beds", "role": "bedd" }]', "roles[0].role", "one of lawn", "bed"],
    ['"roles": [{ "layer": "beds" }]', "roles[0]", "needs a role", ""],
    [
      '"roles": [{ "layer": "a", "set": { "edge": "fense" } }]',
      "roles[0].set.edge",
      "wall",
      "fence",
    ],
    [
      '"edges": [{ "layer": "a", "line": [[0, 0], [1, 1]], "edge": "wall" }]',
      "edges[0]",
      "one of",
      "",
    ],
    ['"edges": [{ "layer": "a" }]', "edges[0].edge", "missing", ""],
    ['"profile": { "setin_m": { "opne": 0.2 } }', "profile.setin_m.opne", "no key", "open"],
    ['"profile": 3', "profile", "a text or an object", ""],
    ['"crs": "british grid"', "crs", "EPSG:N", ""],
    ['"station": { "at": [500000, 200000] }', "station.at", "degrees", ""],
    ['"station": { "at": [1] }', "station.at", "expected", ""],
    ['"setin_m": { "roles": { "bad": 0.2 } }', "setin_m.roles.bad", "no key", "bed"],
    ['"repair": { "join_gap_m": 5 }', "repair.join_gap_m", "at most 0.5", ""],
    ['"prices": { "currency": "euro", "items": [] }', "prices.currency", "ISO 4217", ""],
    [
      '"prices": { "currency": "EUR", "items": [{ "name": "Wire", "per": "wire", "unit_price": 1 }] }',
      "prices.items[0].per",
      "wire_m",
      "wire_m",
    ],
    [
      '"lawns": { "inside": { "type": "Polygon", "coordinates": [[[0, 0]]] } }',
      "lawns.inside.coordinates",
      "rings",
      "",
    ],
  ])("%s", (line, path, expected, near) => {
    const problem = refused(wrong(line));
    expect(problem).toMatchObject({ code: "SITE_FILE_INVALID", line: 3, path });
    expect(problem.message).toContain(`line 3, ${path}`);
    expect(problem.message).toContain(expected);
    if (near) expect(problem.remedy).toContain(`Did you mean ${near}?`);
    else expect(problem.remedy).not.toContain("Did you mean");
  });

  it("names all mistakes, not only the first", () => {
    const problem = refused('{\n"inputs": [],\n"crs": true,\n"colour": 1\n}');
    for (const words of ["3 mistakes", "line 2, inputs", "line 3, crs", "line 4, colour"])
      expect(problem.message).toContain(words);
  });
});
