/** Ground too steep for the machine: told, or shut out; and what slopes do to the timetable. */
import { describe, expect, it } from "vitest";
import { epsgRegistry } from "../../../cli/epsg-registry.ts";
import { checkInputs, planFiles, planInputs, type SteepChoice } from "../../../src/index.ts";
import { GARDEN } from "./garden.ts";
import { type Ground, gridText, rasterFile } from "./rasters.ts";

async function planned(ground: Ground, steep?: SteepChoice) {
  const options = {
    registry: epsgRegistry,
    terrain: { file: rasterFile(gridText(ground, { cell: 0.5 })) },
    rules: steep ? { steep } : {},
  };
  const outcome = await planInputs([GARDEN], options);
  if (!outcome.ok) throw new Error(outcome.problem.message);
  const { files, summary } = planFiles(outcome.value);
  return { files, summary, options, codes: outcome.value.findings.map(({ code }) => code) };
}

/** Level but for a bank of 60 % from x = 6 to x = 9. */
const BANK: Ground = (x) => 50 + 0.6 * Math.min(3, Math.max(0, x - 6));

describe("steep ground", () => {
  it("is told where nothing is said", async () => {
    const { codes, summary } = await planned(BANK);
    expect(codes).toContain("GROUND_STEEP");
    // Some 3 m by 17.4 m inside the wire; Horn's window blurs the two rims by a cell.
    expect(summary.terrain!.steep_m2).toBeGreaterThan(40);
    expect(summary.terrain!.steep_m2).toBeLessThan(62);
  });

  it("is shut out where that is asked for, with wire round it and a caution", async () => {
    const { codes, summary, files } = await planned(BANK, "shut");
    expect(codes).toContain("STEEP_SHUT_OUT");
    expect(codes).not.toContain("GROUND_STEEP");
    expect(summary.terrain!.steep_m2).toBe(0);
    expect(summary.check!.verdict).toBe("holds");
    expect(summary.cautions.map(({ code }) => code)).toContain("STEEP_GROUND");
    const open = await planned(() => 50, "shut");
    const lessM2 = open.summary.totals.mown_m2 - summary.totals.mown_m2;
    expect(lessM2).toBeGreaterThan(3 * 17.4);
    // The bank, its set-ins on both sides and a cell at each rim.
    expect(lessM2).toBeLessThan(5 * 17.4);
    expect(open.codes).not.toContain("STEEP_SHUT_OUT");
    // The plan holds against the site as a check reads it, with the same ground.
    expect(files[0]!.name).toBe("plan.geojson");
  });

  it("has an exclusion loop of its own where it lies free in the lawn", async () => {
    // A mound 6 m across with flanks of 60 %, in the eastern half.
    const mound: Ground = (x, y) => 50 + Math.max(0, 1.8 - 0.6 * Math.hypot(x - 9, y));
    const { summary, files, options } = await planned(mound, "shut");
    expect(summary.loops[0]!.exclusion_loops).toBe(2);
    expect(files[0]!.text).toContain('"name":"steep ground 1"');
    const plan = { name: "plan.geojson", bytes: new TextEncoder().encode(files[0]!.text) };
    const checked = await checkInputs(plan, [GARDEN], options);
    if (!checked.ok) throw new Error(checked.problem.message);
    expect(checked.value.verdict).toBe("holds");
  });
});

describe("slope in the timetable", () => {
  it("takes time on a ramp: area along the slope, and a slower machine in proportion", async () => {
    const level = (await planned(() => 50)).summary.schedule[0]!;
    const ramp = (await planned((x) => 50 + 0.28 * x)).summary.schedule[0]!;
    expect(level).toMatchObject({ mean_slope_percent: 0 });
    expect(ramp.mean_slope_percent).toBeCloseTo(28, 1);
    // The medium machine climbs 35 % and is slower there by 30 %; √(1 + 0.28²) for the area.
    const factor = Math.hypot(1, 0.28) * (1 + (0.3 * 28) / 35);
    expect(ramp.mowing_h / level.mowing_h).toBeCloseTo(factor, 2);
  });
});
