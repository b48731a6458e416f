import { describe, expect, it } from "vitest";
import { readSiteFile } from "../../src/sitefile/read-site-file.ts";
import { optionsOfSiteFile } from "../../src/sitefile/site-options.ts";

const SQUARE = {
  type: "Polygon",
  coordinates: [
    [
      [10, 50],
      [10.001, 50],
      [10.001, 50.001],
      [10, 50],
    ],
  ],
};

function refused(file: object): string {
  const outcome = readSiteFile(JSON.stringify(file), "pegline.json");
  if (outcome.ok) throw new Error("was not refused");
  expect(outcome.problem.code).toBe("SITE_FILE_INVALID");
  return `${outcome.problem.path}: ${outcome.problem.message}`;
}

describe("what the site file says of single features", () => {
  it("is read, with its id as text and its lengths as they stand", () => {
    const text = JSON.stringify({
      features: [
        { layer: "trees", number: 3, set: { loop: "yes" } },
        { file: "a.kml", id: 77, move_m: [1.5, -0.25] },
        { layer: "beds", number: 1, geometry: SQUARE },
      ],
      things: [{ role: "bed", name: "New", geometry: SQUARE, set: { setin_m: 0.4 } }],
    });
    const outcome = readSiteFile(text, "pegline.json");
    if (!outcome.ok) throw new Error(outcome.problem.message);
    const { rules } = optionsOfSiteFile(outcome.value, "pegline.json");
    expect(rules.features).toMatchObject([
      { layer: "trees", number: 3, set: { loop: "yes" } },
      { file: "a.kml", id: "77", moveM: [1.5, -0.25] },
      { layer: "beds", number: 1, geometry: SQUARE },
    ]);
    expect(rules.things).toMatchObject([
      { role: "bed", name: "New", geometry: SQUARE, set: { setin_m: 0.4 } },
    ]);
  });

  it.each([
    [{ layer: "a", role: "bed" }, "features[0]", "needs one of number and id, found none"],
    [{ number: 1, id: "x", role: "bed" }, "features[0]", "found both"],
    [{ number: 1 }, "features[0]", "needs role, set, move_m, geometry or remove"],
    [{ number: 1, remove: true, role: "bed" }, "features[0].role", "goes without remove"],
    [{ number: 1, role: "bed", crs: 27700 }, "features[0].crs", "goes with geometry only"],
    [{ number: 1, move_m: [0, 20_000] }, "features[0].move_m[1]", "at most 10000"],
    [{ number: 0, role: "bed" }, "features[0].number", "at least 1"],
    [{ number: 1, remove: false }, "features[0].remove", "true"],
    [{ number: 1, set: { hieght_m: 2 } }, "features[0].set.hieght_m", "height_m"],
    [{ number: 1, geometry: SQUARE, crs: "here" }, "features[0].crs", "expected EPSG"],
  ])("a mistake is refused: %j", (rule, path, words) => {
    const said = refused({ features: [rule] });
    expect(said.startsWith(`${path}: `)).toBe(true);
    expect(said).toContain(words);
  });

  it("one feature may be named once", () => {
    const said = refused({
      features: [
        { layer: "Beds", number: 4, role: "bed" },
        { layer: "beds ", number: 4, move_m: [1, 0] },
      ],
    });
    expect(said).toContain("names the same feature as features[0]");
  });
});

describe("what the site file draws", () => {
  it.each([
    [{ role: "station", geometry: SQUARE }, "things[0].role", "one of lawn"],
    [{ role: "bed" }, "things[0].geometry", ""],
    [{ role: "bed", geometry: { type: "Polygn", coordinates: [] } }, "things[0].geometry", ""],
    [
      {
        role: "bed",
        geometry: {
          type: "Polygon",
          coordinates: [
            [
              [0, 0],
              [1, 1],
            ],
          ],
        },
      },
      "things[0].geometry.coordinates[0]",
      "at least 4",
    ],
    [
      { role: "tree", geometry: { type: "Point", coordinates: [400_000, 300_000] } },
      "things[0].geometry.coordinates",
      "fits no degrees",
    ],
    [
      { role: "tree", geometry: { type: "Point", coordinates: [10, 50] }, set: { name: "x" } },
      "things[0].set.name",
      "no key",
    ],
  ])("a mistake is refused: %j", (thing, path, words) => {
    const said = refused({ things: [thing] });
    expect(said.startsWith(path)).toBe(true);
    expect(said).toContain(words);
  });
});

it("a survey given in place of a site file is told by its type", () => {
  const said = refused({ type: "FeatureCollection", features: [{ type: "Feature" }] });
  expect(said.startsWith("type: ")).toBe(true);
});
