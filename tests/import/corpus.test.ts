import { existsSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { readInputs } from "../../src/import/read-inputs.ts";
import { FIXTURES, filesUnder, inputAt } from "./fixtures.ts";

const READABLE = /\.(geojson|json|kml|kmz|shp|zip|gpkg|fgb|gpx)$/i;
/** A larger collection of real and broken files, where the checkout has one beside it. */
const CORPUS = ["kml", "shp", "geojson-bad"].map((name) => `../shared/data/${name}`);
const folders = [FIXTURES, ...CORPUS.filter((folder) => existsSync(folder))];

describe("every file gives features or a coded problem, never an exception", () => {
  it.each(folders)("%s", async (folder) => {
    let read = 0;
    for (const path of filesUnder(folder)) {
      if (!READABLE.test(path)) continue;
      const outcome = await readInputs([inputAt(path)]);
      if (outcome.ok) expect(outcome.value.length, path).toBeGreaterThan(0);
      else expect(outcome.problem, path).toMatchObject({ kind: "input", file: path });
      for (const finding of outcome.findings) expect(finding.code, path).toMatch(/^[A-Z0-9_]+$/);
      read++;
    }
    expect(read).toBeGreaterThan(10);
  });
});
