import { open, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { describe, expect, it } from "vitest";
import { pegline } from "./run.ts";

/** Through the built command line, where libraries are bundled and loaded on demand. */
describe("pegline inspect of each format that loads a library of its own", () => {
  it.each([
    ["garden.gpkg", "gpkg", ["lawns", "stakes", "edges", "curves"]],
    ["lawns.fgb", "fgb", ["lawns"]],
    ["garden.gpx", "gpx", ["waypoints", "routes", "tracks"]],
    ["lawns-z.shp", "shapefile", ["lawns-z"]],
    ["extended_data.kml", "kml", ["extended_data"]],
  ])("%s", async (name, format, layers) => {
    const ran = await pegline(["inspect", resolve("tests/fixtures/import", name), "--json"]);
    const [input] = ran.json().inputs;
    expect(input.format).toBe(format);
    expect(input.layers.map((layer: { name: string }) => layer.name)).toEqual(layers);
  });

  it("refuses a file of more than a gigabyte by its beginning", async () => {
    const path = join(tmpdir(), `pegline-large-${process.pid}.geojson`);
    const file = await open(path, "w");
    try {
      await file.write('{"type":"FeatureCollection","features":[');
      await file.truncate(1_100_000_000); // A sparse file: no bytes on the disk.
      await file.close();
      const ran = await pegline(["inspect", path, "--json"]);
      expect(ran.code).toBe(3);
      expect(ran.json().error.code).toBe("FILE_TOO_LARGE");
    } finally {
      await rm(path);
    }
  });
});
