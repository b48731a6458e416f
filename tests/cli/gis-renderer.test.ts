/**
 * The GeoPackage opened and drawn by a GIS's own renderer: PyQGIS (Debian's python3-qgis), where it is
 * there. Styles come from the file alone.
 */
import { spawnSync } from "node:child_process";
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { FeatureCollection } from "geojson";
import { describe, expect, it } from "vitest";
import { channelsOf, PALETTE } from "../../src/export/style/palette.ts";
import { PLAN_STYLES } from "../../src/export/style/plan-style.ts";
import { demo, emptyFolder, pegline } from "./run.ts";

const SCRIPT = fileURLToPath(new URL("../support/draw-geopackage.py", import.meta.url));
const probe = spawnSync("/usr/bin/python3", ["-c", "import qgis.core"]);
const isThere = probe.status === 0;

/** A colour laid over white. */
function overWhite(colour: string, opacity: number): string {
  const mixed = channelsOf(colour).map((one) => Math.round(255 + (one - 255) * opacity));
  return `#${mixed.map((one) => one.toString(16).padStart(2, "0")).join("")}`;
}

describe("plan.gpkg", () => {
  it.skipIf(!isThere)(
    "opens drawn: every layer with its count, system and style (skipped without PyQGIS)",
    async () => {
      const cwd = await emptyFolder();
      const garden = demo("house-garden.geojson");
      await pegline(["plan", garden, "--quiet", "--out", "g", "--format", "gpkg"], { cwd });
      const drawn = spawnSync(
        "/usr/bin/python3",
        [SCRIPT, join(cwd, "g/plan.gpkg"), join(cwd, "picture.png")],
        { encoding: "utf8", env: { ...process.env, QT_QPA_PLATFORM: "offscreen" } },
      );
      const { layers, colours } = JSON.parse(drawn.stdout.trim().split("\n").at(-1)!);
      const plan: FeatureCollection = JSON.parse(
        await readFile(join(cwd, "g/plan.geojson"), "utf8"),
      );
      const kinds = new Map<string, number>();
      for (const { properties } of plan.features) {
        const kind = String(properties!.kind).replaceAll("-", "_");
        kinds.set(kind, (kinds.get(kind) ?? 0) + 1);
      }
      for (const layer of layers) {
        expect(layer).toMatchObject({ valid: true, styled: true, crs: "EPSG:4326" });
        expect(layer.count).toBe(kinds.get(layer.name));
      }
      expect(layers).toHaveLength(kinds.size);
      // Mown ground is most of the picture, in the colour of the style; the wire is drawn in its own.
      const { fill } = PLAN_STYLES["mown-area"];
      const ground = overWhite(fill.colour, fill.opacity);
      const near = Object.entries(colours as Record<string, number>)
        .filter(([name]) =>
          channelsOf(name).every((c, i) => Math.abs(c - channelsOf(ground)[i]!) <= 2),
        )
        .reduce((sum, [, count]) => sum + count, 0);
      expect(near).toBeGreaterThan(0.2 * 600 * 900);
      expect(colours[PALETTE.blue]).toBeGreaterThan(500);
    },
  );
});
