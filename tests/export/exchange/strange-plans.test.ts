/** Features that no plan of ours has, in every format: held, or named among what could not be. */
import type { Feature, Geometry } from "geojson";
import { describe, expect, it } from "vitest";
import { siteGridAt } from "../../../src/crs/site-grid.ts";
import type { PlanFeature } from "../../../src/export/exchange/drawn-plan.ts";
import { FORMAT_NAMES } from "../../../src/export/exchange/formats.ts";
import { labelOf } from "../../../src/export/exchange/label.ts";
import { exported } from "./plans.ts";

const [LON, LAT] = [-28.5, 47.25];
const grid = siteGridAt([LON, LAT]);
const at = (e: number, n: number): [number, number] => [...grid.inverse([e, n])];
const ring = (e: number) => [at(e, 0), at(e + 4, 0), at(e + 4, 3), at(e, 0)];
const shapes: (Geometry | null)[] = [
  { type: "Point", coordinates: at(1, 1) },
  { type: "MultiPoint", coordinates: [at(1, 1), at(2, 2)] },
  { type: "LineString", coordinates: [at(0, 0), at(5, 5)] },
  {
    type: "MultiLineString",
    coordinates: [
      [at(0, 0), at(5, 5)],
      [at(9, 0), at(9, 5)],
    ],
  },
  { type: "Polygon", coordinates: [ring(0)] },
  { type: "MultiPolygon", coordinates: [[ring(0)], [ring(10)]] },
  { type: "GeometryCollection", geometries: [{ type: "Point", coordinates: at(3, 3) }] },
  null,
];
const properties = {
  name: 'Odd <one> & "quoted"',
  number: 7,
  negative: -0.0000001,
  is_on: true,
  off: false,
  none: null,
  list: [1, { two: 2 }],
};
const wire: PlanFeature = {
  geometry: { type: "LineString", coordinates: [...ring(20)] },
  properties: { kind: "boundary-wire", loop: "A", length_m: 12, direction: "anticlockwise" },
};

describe.each(FORMAT_NAMES)("%s", (format) => {
  it.each(shapes.map((geometry, i) => [geometry?.type ?? "no geometry", i] as const))(
    "of a kind of others with %s",
    async (_, i) => {
      const odd = { geometry: shapes[i]!, properties: { kind: "1 odd/kind", ...properties } };
      const { files, about } = await exported([wire, odd], grid, format);
      expect(files.length).toBeGreaterThan(0);
      expect(files.every(({ bytes }) => bytes.length > 0)).toBe(true);
      const alone = await exported([odd], grid, format).catch((error: Error) => error.message);
      if (typeof alone !== "string") expect(alone.files.length).toBeGreaterThan(0);
      expect(about.losses.every((loss) => String(JSON.stringify(loss)).length > 4)).toBe(true);
    },
  );

  it("of kinds of ours with nothing said of them", async () => {
    const kinds = ["peg", "station", "passage", "mown-area", "finding", "paired-run", "guide-peg"];
    const features = kinds.map((kind, i) => ({ geometry: shapes[i % 6]!, properties: { kind } }));
    const { files } = await exported([wire, ...features], grid, format);
    expect(files[0]!.bytes.length).toBeGreaterThan(0);
  });
});

describe("labels", () => {
  const label = (kind: string, said: Feature["properties"] = {}) =>
    labelOf({ kind, properties: said as never });

  it("say what is known, and nothing where nothing is", () => {
    for (const kind of ["peg", "exclusion-loop", "finding"]) expect(label(kind)).toBe("");
    expect(label("peg", { number: "A1" })).toBe("A1");
    expect(label("guide-peg", { loop: "A", number: "G1" })).toBe("A G1");
    expect(label("boundary-wire", { loop: "A", length_m: 12.345 })).toBe("Loop A 12.35 m");
    expect(label("boundary-wire", { loop: "A", length_m: "far" })).toBe("Loop A");
    expect(label("paired-run", { loop: "A", length_m: null })).toBe("Paired run A");
    expect(label("guide-wire")).toBe("Guide wire");
    expect(label("station", { loop: "A" })).toBe("Station A");
    expect(label("station-option", { loop: "A", rank: 2 })).toBe("Place 2 for station A");
    expect(label("passage", { number: 3, width_m: 1.4 })).toBe("Passage 3 1.40 m");
    expect(label("mown-area", { loop: "A", area_m2: 5 })).toBe("Mown by A 5.0 m²");
    expect(label("cut-off-area", { area_m2: 5 })).toBe("Cut off 5.0 m²");
    expect(label("steep-area", { slope_percent: 41.6 })).toBe("Steep 42 %");
    expect(label("hand-trim", { area_m2: 1.25 })).toBe("Hand trim 1.3 m²");
    expect(label("edge-fall", { fall_percent: 9.4 })).toBe("Ground falls away 9 %");
    expect(label("finding", { code: "X" })).toBe("X");
    expect(label("odd")).toBe("odd");
  });
});
