import { describe, expect, it } from "vitest";
import { rasterFiles } from "../../src/export/raster-files.ts";
import { openRaster } from "../../src/import/raster/open-raster.ts";
import { signalMap } from "../../src/physics/signal/signal-map.ts";
import { sampleLoop, samplePlan } from "../export/sample-plan.ts";

describe("the signal as a raster", () => {
  const square = { ...sampleLoop(), wire: Float64Array.of(0, 0, 10, 0, 10, 10, 0, 10) };
  const plan = samplePlan([square]);
  const map = signalMap(plan)!;

  it("has at the middle of a square the field 2 √2 µ0 I / (π a), in µT per ampere, within 0.1 %", () => {
    // Textbook result for a square loop of side a (Griffiths, from memory): 0.11314 µT for 10 m. The
    // middle is the corner of four cells of 0.25 m.
    const column = Math.floor((5 - map.westM) / map.cellM);
    const row = map.rows - 1 - Math.floor((5 - map.southM) / map.cellM);
    const expected = (2 * Math.SQRT2 * 4e-7 * 1e6) / 10;
    const here = map.values[row * map.columns + column]!;
    expect(Math.abs(here / expected - 1)).toBeLessThan(1e-3);
  });

  it("is positive inside the wire and negative outside", () => {
    map.values.forEach((value, i) => {
      const e = map.westM + ((i % map.columns) + 0.5) * map.cellM;
      const n = map.southM + (map.rows - Math.floor(i / map.columns) - 0.5) * map.cellM;
      expect(value > 0).toBe(e > 0 && e < 10 && n > 0 && n < 10);
    });
  });

  it("is written as a grid that reads back with the same values", async () => {
    const files = rasterFiles({ plan, signalMap: map } as Parameters<typeof rasterFiles>[0]);
    expect(files.map(({ name }) => name)).toEqual(["signal.asc", "signal.prj"]);
    const bytes = new TextEncoder().encode(files[0]!.text);
    const raster = await openRaster({ name: "signal.asc", bytes });
    if (!raster?.ok) throw new Error("no raster");
    const { columns, rows } = raster.value;
    const read = await raster.value.read({ left: 0, top: 0, right: columns, bottom: rows });
    if (!read.ok) throw new Error("no cells");
    expect([columns, rows]).toEqual([map.columns, map.rows]);
    const off = read.value.map((value, i) => Math.abs(value - map.values[i]!));
    expect(Math.max(...off)).toBeLessThanOrEqual(5.1e-5);
  });
});
