/** The whole way: a plan with the sun, its map read back. */
import { describe, expect, it } from "vitest";
import { epsgRegistry } from "../../../cli/epsg-registry.ts";
import { resolveCrs } from "../../../src/crs/resolve.ts";
import { openRaster } from "../../../src/import/raster/open-raster.ts";
import { planFiles, planInputs, type SunRules, summaryText } from "../../../src/index.ts";
import { geojsonInput } from "../../support/planning.ts";
import { Pen, rectangle } from "../../support/sites.ts";

const pen = new Pen();
pen.lawn(rectangle(30, 16));
// South of the lawn and 1.2 m off it: it matters to the shade alone.
pen.thing(rectangle(12, 6, [2, -7.2]), { role: "building", name: "House", height_m: 7 }, "firm");
pen.point([24, 19], { role: "tree", name: "Ash", height_m: 10, crown_m: 6, diameter_m: 0.4 });
const { features } = pen.drawn;

async function planned(sun: SunRules | undefined) {
  const outcome = await planInputs([geojsonInput(features)], {
    registry: epsgRegistry,
    rules: sun ? { sun } : {},
  });
  if (!outcome.ok) return { problem: outcome.problem };
  const { files, summary } = planFiles(outcome.value);
  return { files, summary, codes: outcome.value.findings.map(({ code }) => code) };
}

describe("a plan with the sun", () => {
  it("has a map of the lawn that reads back in its place, and figures that agree with it", async () => {
    const { files, summary, codes } = await planned({ zone: "-02:00" });
    const textOf = (name: string) => files!.find((file) => file.name === name)!.text;
    const bytes = new TextEncoder().encode(textOf("sun.asc"));
    const prj = new TextEncoder().encode(textOf("sun.prj"));
    const raster = await openRaster({ name: "sun.asc", bytes, siblings: { ".prj": prj } });
    if (!raster?.ok) throw new Error("no raster");
    const { columns, rows, frame, crs } = raster.value;
    const read = await raster.value.read({ left: 0, top: 0, right: columns, bottom: rows });
    if (!read.ok) throw new Error("no cells");
    const sun = summary!.sun!;
    const hours = read.value.filter((value) => !Number.isNaN(value));
    expect(hours.length * sun.cell_m ** 2).toBeCloseTo(480, -1);
    expect(hours.reduce((a, b) => a + b, 0) / hours.length).toBeCloseTo(sun.mean_h!, 2);
    expect(Math.max(...hours)).toBeLessThanOrEqual(sun.day_length_h + 0.01);
    expect(sun.lawn.reduce((sum, one) => sum + one.area_m2, 0)).toBeCloseTo(480, -1);
    // Its corner is the lawn's, in the site grid.
    const resolved = resolveCrs(crs, epsgRegistry);
    if (!resolved.ok) throw new Error(resolved.problem.message);
    expect(frame.xPerColumn).toBeCloseTo(sun.cell_m, 6);
    expect(codes).toContain("SUN_ASSUMED");
    expect(summaryText(summary!)).toContain("Direct sun on the lawn a day");
  });

  it("puts the station in the shade of the house, and says how much that is", async () => {
    const { summary } = await planned({ zone: "-02:00" });
    const { station } = summary!.loops[0]!;
    const best = Math.max(...[station!, ...station!.options].map((one) => one.hot_shade!));
    expect(station!.hot_shade).toBeGreaterThan(0.3);
    expect(station!.hot_shade).toBeGreaterThan(best - 0.2);
    const without = await planned(undefined);
    expect(without.summary!.loops[0]!.station!.hot_shade).toBeNull();
    expect(without.files!.map(({ name }) => name)).not.toContain("sun.asc");
  });

  it("is the same again to the last byte", async () => {
    expect(await planned({})).toEqual(await planned({}));
  });

  it("is refused with a zone that nobody knows", async () => {
    expect((await planned({ zone: "Nowhere/At_all" })).problem?.code).toBe("SUN_ZONE_UNKNOWN");
  });
});
