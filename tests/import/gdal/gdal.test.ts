import { existsSync, readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { differenceFrom, type Expectations } from "./compare.ts";
import { CORPUS_DIFFERENCES, type Differences, OWN_DIFFERENCES } from "./differences.ts";

/**
 * Every test file against what GDAL reads from it: layer and feature counts, kinds of geometry, and
 * positions (count, extent, mean of x, y and height of each feature) within 1e-9 degrees or 0.1 mm.
 * The figures are GDAL's own, made by scripts/make-gdal-expectations.mjs; no GDAL is needed here.
 */
const TABLES: readonly [string, string, Differences, number][] = [
  ["gdal-own.json", "tests/fixtures", OWN_DIFFERENCES, 40],
  // A larger collection of real and broken files, where the checkout has one beside it.
  ["gdal-corpus.json", "../shared/data", CORPUS_DIFFERENCES, 300],
];

describe.each(TABLES)("%s", (table, root, reasons, filesMin) => {
  const { made_with, files }: Expectations = JSON.parse(
    readFileSync(`tests/fixtures/import/${table}`, "utf8"),
  );
  const present = Object.keys(files).filter((file) => existsSync(`${root}/${file}`));

  it(`was made with GDAL 3.6.2; ${present.length} of ${Object.keys(files).length} files are here to compare`, () => {
    expect(made_with).toContain("GDAL 3.6.2");
    expect(Object.keys(files).length).toBeGreaterThanOrEqual(filesMin);
    if (root.startsWith("tests")) expect(present).toEqual(Object.keys(files));
  });

  it("gives the same, or differs for a reason that is stated", async () => {
    const found: Record<string, string> = {};
    for (const file of present) {
      const difference = await differenceFrom(files[file]!, `${root}/${file}`);
      if (difference !== undefined) found[file] = difference;
    }
    const stated = Object.keys(reasons).filter((file) => present.includes(file));
    expect(Object.keys(found).sort()).toEqual(stated.sort());
    for (const [file, difference] of Object.entries(found)) {
      expect(difference, file).toContain(reasons[file]![0]);
    }
  });
});

it("the comparison can fail", async () => {
  const layer = { name: "poly", features: 10, step: 1, figures: [] };
  const square = ["Polygon", 5, 0, 0, 1, 1, 0.4, 0.4, 0] as const;
  const path = "tests/fixtures/import/poly.shp";
  expect(await differenceFrom([layer], path)).toBeUndefined();
  expect(await differenceFrom([{ ...layer, features: 9 }], path)).toContain(
    "9 features against 10",
  );
  expect(await differenceFrom([{ ...layer, figures: [square] }], path)).toContain("positions");
});
