/**
 * Random sites under the judge. A seed that breaks a rule today is listed with its rules and left
 * as work to do; every other one must hold. The long run is `npm run property`.
 */
import { describe, expect, it } from "vitest";
import { minimised } from "./minimise.ts";
import { judged } from "./rules.ts";
import { sketchOf } from "./sketches.ts";

const SEEDS = Array.from({ length: 60 }, (_, i) => i + 1);

/** What the planner does not yet keep, by seed. */
const BROKEN: Readonly<Record<number, string>> = {
  58: "the judge finds the wire 0.254 m from tree 1, where 0.35 m are asked (WIRE_TOO_NEAR_EDGE)",
};

describe("random sites", () => {
  for (const seed of SEEDS) {
    const broken = BROKEN[seed];
    if (broken) it.todo(`seed ${seed}: ${broken}`);
    else {
      it(`seed ${seed} keeps every rule`, async () => {
        expect((await judged(sketchOf(seed))).breaches).toEqual([]);
      });
    }
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
