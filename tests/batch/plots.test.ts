/** How inputs are divided into plots. Sites drawn in metres; what belongs where is plain to see. */
import type { Feature } from "geojson";
import { describe, expect, it } from "vitest";
import { LawnIndex } from "../../src/batch/lawn-index.ts";
import { plotOfPosted, postedPlot } from "../../src/batch/plot.ts";
import { fieldText } from "../../src/batch/plots-by-field.ts";
import { readInputs } from "../../src/import/read-inputs.ts";
import { dividePlots } from "../../src/jobs/divide-plots.ts";
import type { RawFeature } from "../../src/model/features.ts";
import { planeAt, type Xy } from "../support/plane.ts";
import { SOMEWHERE } from "../support/sites.ts";

const plane = planeAt(SOMEWHERE);

const box = (x: number, y: number, w: number, h: number): Xy[] => [
  [x, y],
  [x + w, y],
  [x + w, y + h],
  [x, y + h],
  [x, y],
];

const area = (name: string, properties: Record<string, unknown>, ...rings: Xy[][]): Feature => ({
  type: "Feature",
  id: name,
  properties: { name, ...properties },
  geometry: {
    type: "Polygon",
    coordinates: rings.map((ring) => ring.map((at) => plane.toDegrees(at))),
  },
});

const point = (name: string, properties: Record<string, unknown>, at: Xy): Feature => ({
  type: "Feature",
  id: name,
  properties: { name, ...properties },
  geometry: { type: "Point", coordinates: plane.toDegrees(at) },
});

const line = (name: string, properties: Record<string, unknown>, ...ats: Xy[]): Feature => ({
  type: "Feature",
  id: name,
  properties: { name, ...properties },
  geometry: { type: "LineString", coordinates: ats.map((at) => plane.toDegrees(at)) },
});

async function layersOf(features: readonly Feature[]) {
  const text = JSON.stringify({ type: "FeatureCollection", features });
  const read = await readInputs([{ name: "town.geojson", bytes: new TextEncoder().encode(text) }]);
  if (!read.ok) throw new Error(read.problem.message);
  return read.value;
}

async function divided(features: readonly Feature[], division: { by: string } | "each-lawn") {
  const outcome = await dividePlots(await layersOf(features), division);
  if (!outcome.ok) return { code: outcome.problem.code, message: outcome.problem.remedy };
  const plots = Array.from({ length: outcome.value.count }, (_, i) => outcome.value.plot(i + 1));
  const namesIn = (list: readonly RawFeature[]) => list.map((one) => one.id);
  return {
    plots: plots.map((plot) => [plot.name, plot.layers.flatMap((one) => namesIn(one.features))]),
    codes: outcome.findings.map((one) => one.code),
  };
}

const lawn = (name: string, x: number, w = 20) => area(name, { role: "lawn" }, box(x, 0, w, 15));

describe("by an attribute", () => {
  const of = (name: string, parcel: unknown) => area(name, { parcel }, box(0, 0, 9, 9));

  it("features of one value are a plot, in the order of first appearance", async () => {
    const features = [of("a", "B7"), of("b", 12), of("c", " B7 "), of("d", "12")];
    expect(await divided(features, { by: "PARCEL" })).toEqual({
      plots: [
        ["B7", ["a", "c"]],
        ["12", ["b", "d"]],
      ],
      codes: [],
    });
  });

  it("features without a value are told; where none has one, the names near it are", async () => {
    const some = await divided([of("a", "x"), of("b", null), of("c", ""), of("d", { k: 1 })], {
      by: "parcel",
    });
    expect(some).toEqual({ plots: [["x", ["a"]]], codes: ["PLOT_FIELD_EMPTY"] });
    const none = await divided([of("a", "x")], { by: "parcle" });
    expect(none).toMatchObject({ code: "PLOT_FIELD_MISSING" });
    expect(none.message).toContain("Did you mean parcel?");
  });

  it("names that objects have anyhow are no attributes", () => {
    expect(fieldText({}, "constructor")).toBeUndefined();
    expect(fieldText({}, "__proto__")).toBeUndefined();
  });
});

describe("each lawn", () => {
  it("takes what touches it, lies in it, round it or within two metres, and no other lawn", async () => {
    const features = [
      lawn("west", 0),
      lawn("east", 23),
      area("pond", { role: "water" }, box(5, 5, 3, 3)),
      // Between both, 1.5 m from each.
      area("bed", { role: "bed" }, box(21.5, 3, 0.01, 3)),
      area("far bed", { role: "bed" }, box(46, 3, 2, 3)),
      // Its ends are far from both, it passes along them.
      line("wall", { role: "edge", edge: "wall" }, [-30, -0.5], [70, -0.5]),
      area("ring of gravel", { role: "gravel" }, box(-9, -9, 60, 40), box(-8, -8, 58, 38)),
      point("oak", { role: "tree", diameter_m: 0.5 }, [30, 7]),
    ];
    expect(await divided(features, "each-lawn")).toEqual({
      plots: [
        ["west", ["west", "pond", "bed", "wall", "ring of gravel"]],
        ["east", ["east", "bed", "wall", "ring of gravel", "oak"]],
      ],
      codes: ["PLOT_THINGS_LEFT"],
    });
  });

  it("gives a station or an outlet to the nearest lawn alone", async () => {
    const features = [
      lawn("west", 0),
      lawn("east", 21),
      point("station", { role: "station" }, [20.7, 7]),
      point("outlet", { role: "outlet" }, [0, 30]),
      point("lost outlet", { role: "outlet" }, [0, 41]),
    ];
    expect(await divided(features, "each-lawn")).toEqual({
      plots: [
        ["west", ["west", "outlet"]],
        ["east", ["east", "station"]],
      ],
      codes: ["PLOT_THINGS_LEFT"],
    });
  });

  it("outlines without attributes are lawns, and those inside them beds", async () => {
    const bare = (name: string, ring: Xy[]) => ({ ...area(name, {}, ring), properties: {} });
    const features = [
      bare("a", box(0, 0, 20, 15)),
      bare("b", box(40, 0, 20, 15)),
      bare("c", box(44, 4, 3, 3)),
    ];
    expect(await divided(features, "each-lawn")).toEqual({
      plots: [
        ["a", ["a"]],
        ["b", ["b", "c"]],
      ],
      codes: [],
    });
  });

  it("says so where nothing is lawn", async () => {
    const features = [area("pond", { role: "water" }, box(0, 0, 9, 9))];
    expect(await divided(features, "each-lawn")).toMatchObject({ code: "NO_LAWN" });
  });

  it("looks at a few lawns for each thing, however many there are", () => {
    const asked = { count: 0 };
    const areas = Array.from({ length: 300 }, (_, i) => {
      const shell = Float64Array.from(
        box(30 * i, 0, 20, 15)
          .slice(0, 4)
          .flat(),
      );
      return [
        {
          get shell() {
            asked.count++;
            return shell;
          },
          holes: [],
        },
      ];
    });
    const index = new LawnIndex(areas);
    asked.count = 0;
    for (let i = 0; i < 300; i++) {
      expect(index.holding([30 * i + 5, 5])).toEqual([i]);
      expect(
        index.inside(
          Float64Array.from(
            box(30 * i - 1, -1, 22, 17)
              .slice(0, 4)
              .flat(),
          ),
        ),
      ).toEqual([i]);
    }
    // A few looks at one lawn for each question; without an index there would be 90,000.
    expect(asked.count).toBeLessThan(10 * 300);
  });
});

it("a plot goes to another thread and comes back the same, with nothing of its neighbours", async () => {
  const many = Array.from({ length: 200 }, (_, i) => lawn(`lawn ${i}`, 30 * i));
  const outcome = await dividePlots(await layersOf(many), { by: "name" });
  if (!outcome.ok) throw new Error(outcome.problem.message);
  const wavy = Array.from(
    { length: 60 },
    (_, i): Xy => [10 * Math.cos(i / 9.55), 9 * Math.sin(i / 9.55)],
  );
  const round = await layersOf([area("round", { parcel: 1 }, [...wavy, wavy[0]!]), ...many]);
  const plots = await dividePlots(round, { by: "parcel" });
  if (!plots.ok) throw new Error(plots.problem.message);
  const plot = plots.value.plot(1);
  const posted = structuredClone(postedPlot(plot));
  expect(plotOfPosted(posted)).toEqual(plot);
  const [feature] = posted.layers[0]!.features;
  const { packed } = feature as { packed: { numbers: Float64Array } };
  expect(packed.numbers.buffer.byteLength).toBe(61 * 2 * 8);
});
