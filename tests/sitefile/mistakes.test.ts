/** Keys of a site file that need or exclude each other, and values of every wrong sort. */
import { describe, expect, it } from "vitest";
import { readSiteFile } from "../../src/sitefile/read-site-file.ts";

const LINE = '"line": [[10, 50], [10.1, 50]]';
const AREA = '"area": [[10, 50], [10.1, 50], [10, 50.1]]';
const RING = "[[10, 50], [10.1, 50], [10, 50.1], [10, 50]]";

function message(line: string): string {
  const outcome = readSiteFile(`{\n${line}\n}`, "pegline.json");
  if (outcome.ok) return "accepted";
  expect(outcome.problem).toMatchObject({ code: "SITE_FILE_INVALID", line: 2 });
  return `${outcome.problem.path}: ${outcome.problem.message}`;
}

describe("edges", () => {
  it.each([
    ['{ "edge": "wall" }', "edges[0]: ", "needs one of layer, line and beside, found none"],
    [`{ "layer": "a", ${LINE}, "edge": "wall" }`, "edges[0]: ", "found layer and line"],
    ['{ "layer": "a", "edge": "wall", "crs": 25832 }', "edges[0].crs", "goes with line only"],
    [
      '{ "beside": "bed", "edge": "wall", "setin_m": 0.4 }',
      "edges[0].setin_m",
      "goes with layer or line only",
    ],
    [`{ ${LINE}, "edge": "wall", "setin_m": 0.4 }`, "accepted", ""],
    [`{ "line": [[500000, 1], [2, 3]], "edge": "wall" }`, "edges[0].line", "fits no degrees"],
    [`{ "line": [[500000, 1], [2, 3]], "crs": 25832, "edge": "wall" }`, "accepted", ""],
  ])("%s", (rule, path, words) => {
    const said = message(`"edges": [${rule}]`);
    expect(said).toContain(path);
    expect(said).toContain(words);
  });
});

describe("ground of runs", () => {
  it.each([
    ['{ "wire": "no" }', "run_ground[0]: ", "needs one of layer and area, found none"],
    [`{ "layer": "a", ${AREA}, "wire": "no" }`, "run_ground[0]: ", "found layer and area"],
    ['{ "layer": "a" }', "run_ground[0]: ", "needs wire, run_cost or slope_percent"],
    ['{ "layer": "a", "wire": "no", "crs": 25832 }', "run_ground[0].crs", "goes with area only"],
    ['{ "layer": "a", "wire": "no", "name": "x" }', "run_ground[0].name", "goes with area only"],
    [`{ ${AREA}, "run_cost": 2, "name": "x" }`, "accepted", ""],
    ['{ "area": [[500000, 1], [2, 3], [4, 5]], "wire": "no" }', "run_ground[0].area", "no degrees"],
  ])("%s", (rule, path, words) => {
    const said = message(`"run_ground": [${rule}]`);
    expect(said).toContain(path);
    expect(said).toContain(words);
  });
});

describe("outlines of lawns", () => {
  const inside = (type: string, coordinates: string) =>
    message(`"lawns": { "inside": { "type": "${type}", "coordinates": ${coordinates} } }`);

  it.each([
    ["Polygon", `[${RING}]`, true],
    ["MultiPolygon", `[[${RING}]]`, true],
    ["Polygon", "[]", false],
    ["Polygon", '["x"]', false],
    ["Polygon", "[[1, 2, 3, 4]]", false],
    ["Polygon", "[[[10], [11], [12], [13]]]", false],
    ["Polygon", "[[[500, 1], [1, 2], [2, 3], [500, 1]]]", false],
    ["Polygon", '[[["a", 1], [1, 2], [2, 3], [5, 1]]]', false],
    ["MultiPolygon", "[]", false],
    ["MultiPolygon", `[${RING}]`, false],
    ["MultiPolygon", "[[]]", false],
  ])("%s %s: %s", (type, coordinates, isGood) => {
    const said = inside(type, coordinates);
    if (isGood) expect(said).toBe("accepted");
    else expect(said).toContain(`lawns.inside.coordinates: `);
  });
});

describe("prices and systems", () => {
  it("a reel's size goes with prices of reels alone", () => {
    const item = (per: string) =>
      message(
        `"prices": { "currency": "EUR", "items": [{ "name": "x", "per": "${per}", "unit_price": 1, "reel_m": 100 }] }`,
      );
    expect(item("reel")).toBe("accepted");
    expect(item("peg")).toContain("prices.items[0].reel_m");
  });

  it.each([
    ['"inputs": [{ "file": "a", "crs": "moon" }]', "inputs[0].crs"],
    [`"edges": [{ ${LINE}, "crs": "moon", "edge": "wall" }]`, "edges[0].crs"],
    [`"run_ground": [{ ${AREA}, "crs": "moon", "wire": "no" }]`, "run_ground[0].crs"],
    ['"station": { "at": [1, 2], "crs": "moon" }', "station.crs"],
    ['"outlet": [{ "at": [1, 2] }, { "at": [1, 2], "crs": "moon" }]', "outlet[1].crs"],
    ['"lawns": { "nearest": { "at": [1, 2], "crs": "moon" } }', "lawns.nearest.crs"],
  ])("%s is no system", (line, path) => {
    expect(message(line)).toContain(path);
    expect(message(line)).toContain("expected EPSG:N, a PROJ string or WKT");
  });

  it.each(["EPSG:27700", "27700", "+proj=utm +zone=32", 'PROJCS["x"]', "+init=epsg:4326"])(
    "%s may be one",
    (crs) => {
      expect(message(`"crs": ${JSON.stringify(crs)}`)).toBe("accepted");
    },
  );
});

describe("values of the wrong sort are told as what they are", () => {
  it.each([
    ['"name": { "a": 1 }', "found an object"],
    ['"name": [1]', "found"],
    ['"name": null', "found"],
    ['"name": ""', "at least 1"],
    ['"split": "yes"', "found"],
    [`"split": "${"y".repeat(90)}"`, "…"],
    ['"inputs": []', "at least 1"],
    ['"station": []', "station"],
    ['"schedule": { "from": "8 am" }', "08:30"],
    ['"sun": { "from": "13-01" }', "04-01"],
    ['"sheet": { "scale": 123 }', "sheet.scale"],
    ['"features": [{ "number": 1, "geometry": { "type": "Circle" } }]', "features[0]"],
    ['"profile": { "pegs": { "spacing_max_m": "far" } }', "profile.pegs.spacing_max_m"],
  ])("%s", (line, words) => {
    expect(message(line)).toContain(words);
  });
});
