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
import {
  type FeatureStyle,
  PLAN_STYLES,
  STYLE_NAMES,
  styleNamed,
} from "../../src/export/style/plan-style.ts";
import { demo, emptyFolder, pegline } from "./run.ts";

const SCRIPT = fileURLToPath(new URL("../support/draw-geopackage.py", import.meta.url));
const SLD_SCRIPT = fileURLToPath(new URL("../support/draw-sld.py", import.meta.url));
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

  it.skipIf(!isThere)(
    "is drawn by its SLD in the colours of the styles (skipped without PyQGIS)",
    async () => {
      const cwd = await emptyFolder();
      const garden = demo("house-garden.geojson");
      await pegline(["plan", garden, "--quiet", "--out", "g", "--format", "gpkg"], { cwd });
      const drawn = spawnSync("/usr/bin/python3", [SLD_SCRIPT, join(cwd, "g/plan.gpkg"), cwd], {
        encoding: "utf8",
        env: { ...process.env, QT_QPA_PLATFORM: "offscreen" },
      });
      const layers = JSON.parse(drawn.stdout.trim().split("\n").at(-1)!) as DrawnBySld[];
      expect(layers.length).toBeGreaterThan(9);
      for (const { name, taken, message, colours } of layers) {
        expect([name, taken, message]).toEqual([name, true, ""]);
        const kind = name.replaceAll("_", "-");
        // Layers with a rule for each verdict or severity: one of their styles shows.
        const styles = STYLE_NAMES.filter((one) => one === kind || one.startsWith(`${kind}-`));
        const wanted = styles
          .filter((one) => styles.length === 1 || one !== kind)
          .map((one) => colourOf(styleNamed(one)));
        const shows = wanted.some((colour) => pixelsNear(colours, colour) > 20);
        expect([name, shows], JSON.stringify(wanted)).toEqual([name, true]);
      }
    },
  );
});

interface DrawnBySld {
  readonly name: string;
  readonly taken: boolean;
  readonly message: string;
  readonly colours: Readonly<Record<string, number>>;
}

/** The colour that most of a feature has: its marker, its fill over white, its line. */
function colourOf({ marker, fill, stroke }: FeatureStyle): string {
  if (marker) return marker.fill === PALETTE.white ? marker.stroke.colour : marker.fill;
  return fill ? overWhite(fill.colour, fill.opacity) : stroke!.colour;
}

/** Pixels of about a colour: lines are drawn thin, and smoothed. */
function pixelsNear(colours: Readonly<Record<string, number>>, colour: string): number {
  const wanted = channelsOf(colour);
  const isNear = (name: string) =>
    channelsOf(name).every((channel, i) => Math.abs(channel - wanted[i]!) <= 96) &&
    name !== "#ffffff";
  return Object.entries(colours).reduce(
    (sum, [name, count]) => sum + (isNear(name) ? count : 0),
    0,
  );
}
