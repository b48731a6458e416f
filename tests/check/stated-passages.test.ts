/**
 * Passages measured anew on lawns whose widths are known from how they are drawn: what the planner
 * states holds, and what a plan invents or leaves out is found.
 */
import { describe, expect, it } from "vitest";
import { epsgRegistry } from "../../cli/epsg-registry.ts";
import type { StatedPassage } from "../../src/check/stated/stated-plan.ts";
import { builtInProfile, checkPlan, planSite, readSite, statedOfPlan } from "../../src/index.ts";
import type { Xy } from "../support/plane.ts";
import { geojsonInput } from "../support/planning.ts";
import { type Drawn, Pen, rectangle } from "../support/sites.ts";

const profile = builtInProfile("medium");

/** What the rule says of a site's plan with other passages stated. */
async function measured(
  drawn: Drawn,
  change: (passages: readonly StatedPassage[]) => readonly StatedPassage[] = (all) => all,
) {
  const read = await readSite([geojsonInput(drawn.features)], { registry: epsgRegistry, profile });
  if (!read.ok) throw new Error(read.problem.code);
  const made = planSite(read.value, profile);
  if (!made.ok) throw new Error(made.problem.code);
  const plan = statedOfPlan(made.value);
  const passages = change(plan.passages!);
  const { measures, verdict, findings } = checkPlan(read.value, profile, { ...plan, passages });
  const rule = measures.find((one) => one.rule === "stated-passages")!;
  // A doubt: a warning at most, and the verdict is that of the other rules.
  expect(verdict).toBe("holds");
  expect(findings.filter(({ severity }) => severity === "error")).toEqual([]);
  return { passages, holds: rule.holds, says: rule.breaches.map(({ message }) => message) };
}

/** Two lawns of 8 m by 8 m and a neck between them. */
function dumbbell(neckM: number): Xy[] {
  const [low, high] = [4 - neckM / 2, 4 + neckM / 2];
  return [
    [0, 0],
    [8, 0],
    [8, low],
    [10, low],
    [10, 0],
    [18, 0],
    [18, 8],
    [10, 8],
    [10, high],
    [8, high],
    [8, 8],
    [0, 8],
  ];
}

/** A lawn of 12 m by 8 m with a bay in its upper edge, 1 m wide and 1 m deep. */
const withBay: Xy[] = [
  [0, 0],
  [12, 0],
  [12, 8],
  [6.5, 8],
  [6.5, 9],
  [5.5, 9],
  [5.5, 8],
  [0, 8],
];

describe("passages that a plan states", () => {
  it.each([0.5, 1.2, 1.9])("hold in a neck of %d m", async (neckM) => {
    const { passages, holds } = await measured(new Pen().lawn(dumbbell(neckM)).drawn);
    expect(passages).toHaveLength(1);
    expect(passages[0]!.widthM).toBeCloseTo(neckM, 2);
    expect(holds).toBe(true);
  });

  it.each<[string, (one: StatedPassage) => StatedPassage]>([
    ["wider by 6 mm", (one: StatedPassage) => ({ ...one, widthM: one.widthM! + 0.006 })],
    ["narrower by 6 mm", (one: StatedPassage) => ({ ...one, widthM: one.widthM! - 0.006 })],
    ["of 10 mm between its wires", (one: StatedPassage) => ({ ...one, wireWidthM: 0.01 })],
  ])("are found %s", async (_, change) => {
    const drawn = new Pen().lawn(dumbbell(1.2)).drawn;
    expect((await measured(drawn, (all) => all.map(change))).holds).toBe(false);
  });

  it("hold within 5 mm", async () => {
    const drawn = new Pen().lawn(dumbbell(1.2)).drawn;
    const off = (one: StatedPassage) => ({ ...one, widthM: one.widthM! + 0.004 });
    expect((await measured(drawn, (all) => all.map(off))).holds).toBe(true);
  });
});

describe("passages that a plan leaves out", () => {
  it("are found where the neck is all there is", async () => {
    const { says } = await measured(new Pen().lawn(dumbbell(1.2)).drawn, () => []);
    expect(says).toEqual(["A passage 1.20 m wide edge to edge is not stated."]);
  });

  it("are found beside a house that the lawn runs round, although they part nothing", async () => {
    // House of 6 m by 6 m on a lawn of 20 m by 20 m: 1.5 m of lawn to the left of it.
    const drawn = new Pen()
      .lawn(rectangle(20, 20))
      .thing(rectangle(6, 6, [1.5, 7]), { role: "building" }, "firm", 0.35).drawn;
    const { passages, holds } = await measured(drawn);
    expect(passages.map(({ widthM }) => widthM!.toFixed(2))).toEqual(["1.50"]);
    expect(holds).toBe(true);
    const { says } = await measured(drawn, () => []);
    // Told at both ends of the way beside the house.
    expect(new Set(says)).toEqual(new Set(["A passage 1.50 m wide edge to edge is not stated."]));
  });
});

describe("passages that a plan invents", () => {
  const at = (e: number, n: number, widthM: number): StatedPassage => ({
    number: "9",
    centreLine: Float64Array.of(e, n - 0.1, e, n + 0.1),
    widthM,
    wireWidthM: Math.max(0, widthM - 0.6),
    verdict: "shut",
  });

  it("are found at the mouth of a bay, beyond which there is no room", async () => {
    const drawn = new Pen().lawn(withBay).drawn;
    expect((await measured(drawn)).passages).toEqual([]);
    // The grid has its origin in the middle of the lawn's box, which is 12 m by 9 m.
    const { says } = await measured(drawn, () => [at(0, 3.5, 1)]);
    expect(says).toEqual([
      "Passage 9 is none: on one side of it there is no room for the machine.",
    ]);
  });

  it("are found along a plain edge", async () => {
    const { says } = await measured(new Pen().lawn(rectangle(12, 8)).drawn, () => [
      at(-5.8, 0, 0.25),
    ]);
    expect(says).toEqual(["Passage 9 is stated 0.250 m wide; there is no narrow place."]);
  });
});

describe("bends and blunt corners by water", () => {
  it("are no passages of a corner's own sampling", async () => {
    // Opposite a pond 3.4 m off, the edge of the lawn turns by 3°: a disc between them has room by
    // the set-in of one side and none by that of the other.
    const drawn = new Pen()
      .lawn([
        [0, 0],
        [24, 0],
        [24, 9],
        [12, 9.6],
        [0, 9],
      ])
      .thing(rectangle(10, 3, [7, 3]), { role: "water" }, "loop", 1).drawn;
    const { passages, holds } = await measured(drawn);
    expect(holds).toBe(true);
    for (const { widthM } of passages) expect(widthM).toBeGreaterThan(2);
  });
});
