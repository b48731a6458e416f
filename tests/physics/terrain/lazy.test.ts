import { expect, it } from "vitest";
import { sourceFiles } from "../../house/source-files.ts";

/** Imports by value, not by type, of code that only a site with heights needs. */
const OF_TERRAIN =
  /^(?:import|export) (?!type )(?:(?!;\n)[\s\S])*? from "[^"]*(?:plan-terrain|site-heights|site-steep|place-raster|height-tin|raster\/(?:geotiff|esri-grid)|\/terrain\/[a-z-]+)\.ts";/gm;

it("the code for terrain is loaded only where heights are given", async () => {
  // The test itself can fail:
  expect('import { a } from "./plan-terrain.ts";'.match(OF_TERRAIN)).toHaveLength(1);
  expect('import type { A } from "./plan-terrain.ts";'.match(OF_TERRAIN)).toBeNull();
  const wrong = (await sourceFiles("src"))
    .filter(
      ({ path }) =>
        !/^src\/jobs\/(?:plan-terrain|site-heights|site-steep)\.ts$/.test(path) &&
        !path.startsWith("src/physics/terrain"),
    )
    .filter(({ text }) => text.match(OF_TERRAIN) !== null);
  expect(wrong.map(({ path }) => path)).toEqual([]);
});
