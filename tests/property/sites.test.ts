/**
 * Random sites under the judges, and sites that once broke a rule, as they are kept. The long run is
 * `npm run property`.
 */
import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { minimised } from "./minimise.ts";
import { judged } from "./rules.ts";
import type { Sketch } from "./sketch.ts";
import { sketchOf } from "./sketches.ts";

const SEEDS = Array.from({ length: 60 }, (_, i) => i + 1);
const KEPT = new URL("kept/", import.meta.url);

describe("random sites", () => {
  for (const seed of SEEDS) {
    it(`seed ${seed} keeps every rule`, async () => {
      expect((await judged(sketchOf(seed))).breaches).toEqual([]);
    });
  }
});

describe("sites that broke a rule once", () => {
  for (const file of readdirSync(KEPT)) {
    const { was, sketch } = JSON.parse(readFileSync(new URL(file, KEPT), "utf8")) as {
      was: string;
      sketch: Sketch;
    };
    it(`${file}: ${was}`, async () => {
      const { outcome, breaches } = await judged(sketch);
      expect(breaches).toEqual([]);
      expect(outcome).toBe("planned");
    });
  }
});

describe("the generator", () => {
  it("gives the same sketch for the same seed, and another for another", () => {
    expect(sketchOf(7)).toEqual(sketchOf(7));
    expect(sketchOf(7)).not.toEqual(sketchOf(8));
  });

  it("has most features that it should, over a hundred seeds", () => {
    const roles = new Set(
      Array.from({ length: 100 }, (_, i) => sketchOf(i + 1)).flatMap(({ pieces }) =>
        pieces.map((piece) => piece.is.role),
      ),
    );
    for (const role of [
      "lawn",
      "bed",
      "water",
      "building",
      "firm",
      "paving",
      "tree",
      "edge",
      "station",
    ]) {
      expect(roles).toContain(role);
    }
  });
});

describe("minimising", () => {
  it("leaves only what a failure needs", async () => {
    const sketch = Array.from({ length: 50 }, (_, i) => sketchOf(i + 1)).find(
      ({ pieces }) => pieces.length > 6 && pieces.some((piece) => piece.is.role === "tree"),
    )!;
    const hasTree = async ({ pieces }: typeof sketch) =>
      pieces.some((piece) => piece.is.role === "tree");
    const { pieces, machine } = await minimised(sketch, hasTree);
    expect(pieces.map((piece) => piece.is.role).sort()).toEqual(["lawn", "tree"]);
    expect(Object.keys(machine)).toEqual(["based_on"]);
  });
});
