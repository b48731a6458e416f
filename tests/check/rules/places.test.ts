/** How breaches become findings: the worst places first, each a metre from the others. */
import { describe, expect, it } from "vitest";
import { lengthSlackM } from "../../../src/check/allowances.ts";
import { checkPlan } from "../../../src/check/check-plan.ts";
import { measured, notMeasured, worstPlaces } from "../../../src/check/measure.ts";
import type { Rule } from "../../../src/check/rule.ts";
import { box, siteOf } from "../../plan/shapes.ts";
import { MACHINE } from "./scene.ts";

const at = (e: number, n: number, amount: number) => ({ atM: [e, n] as const, amount, of: "" });

describe("the worst places", () => {
  it("come worst first", () => {
    expect(worstPlaces([at(0, 0, 1), at(9, 0, 3), at(0, 9, 2)]).map((one) => one.amount)).toEqual([
      3, 2, 1,
    ]);
    expect(worstPlaces([])).toEqual([]);
  });

  it.each([
    [0.99, 0],
    [-0.99, 0],
    [0, 0.99],
    [0, -0.99],
    [0.7, 0.7],
    [-0.7, 0.7],
    [0.7, -0.7],
    [-0.7, -0.7],
  ])("a place %d m east and %d m north of a worse one is the same", (e, n) => {
    // Seen from the middle and from the corners of its square metre.
    for (const [oe, on] of [
      [0.5, 0.5],
      [0.01, 0.01],
      [0.99, 0.99],
      [-3.01, 7.99],
    ] as const) {
      expect(worstPlaces([at(oe, on, 2), at(oe + e, on + n, 1)])).toHaveLength(1);
    }
  });

  it.each([
    [1.01, 0],
    [-1.01, 0],
    [0, 1.01],
    [0, -1.01],
    [0.75, 0.75],
  ])("%d m east and %d m north is another", (e, n) => {
    expect(worstPlaces([at(0.5, 0.5, 2), at(0.5 + e, 0.5 + n, 1)])).toHaveLength(2);
  });

  it("of two in one square metre the worse is kept, even where they are a diagonal apart", () => {
    expect(worstPlaces([at(0.01, 0.01, 1), at(0.99, 0.99, 2)])).toEqual([at(0.99, 0.99, 2)]);
  });
});

describe("figures", () => {
  it("hold where nothing is broken; what is no number is none", () => {
    expect(measured("m", "at least", 2, 1, [])).toMatchObject({ measured: 2, holds: true });
    expect(measured("m", "at least", Infinity, 1, [])).toMatchObject({ measured: null });
    const breach = { message: "m", remedy: "r" };
    expect(measured("m", "at least", 0, 1, [breach])).toMatchObject({
      holds: false,
      breaches: [breach],
    });
    expect(notMeasured("m", "at most", "why")).toEqual({
      unit: "m",
      bound: "at most",
      measured: null,
      allowed: null,
      holds: null,
      note: "why",
      breaches: [],
    });
  });

  it("stated lengths may be off by 1 mm and 2 ppm", () => {
    expect(lengthSlackM(0)).toBe(0.001);
    expect(lengthSlackM(500)).toBeCloseTo(0.002, 12);
  });
});

describe("a verdict", () => {
  const site = siteOf([box(0, 0, 9, 9)]);
  const rule = (count: number, holds: boolean | null = count === 0): Rule => ({
    id: "closed",
    code: "SOME_CODE",
    title: "a title",
    measure: () => ({
      ...notMeasured("m", "at most", ""),
      holds,
      breaches: Array.from({ length: count }, (_, i) => ({
        message: `No. ${i}.`,
        remedy: "Mend it.",
        ...(i === 0 ? {} : { atM: [i, 1] as const }),
      })),
    }),
  });
  const judge = (...rules: Rule[]) =>
    checkPlan(site, MACHINE, { loops: [], passages: undefined, mown: undefined }, rules);

  it("holds where no rule is broken, measured or not", () => {
    expect(judge(rule(0), rule(0, null))).toMatchObject({ verdict: "holds", findings: [] });
    expect(judge(rule(0), rule(1))).toMatchObject({ verdict: "broken" });
    expect(judge(rule(0)).measures[0]).toMatchObject({ rule: "closed", title: "a title" });
  });

  it("has a finding for each place, in degrees too where there is one", () => {
    const { findings } = judge(rule(2));
    expect(findings).toEqual([
      { code: "SOME_CODE", severity: "error", message: "No. 0.", remedy: "Mend it." },
      {
        code: "SOME_CODE",
        severity: "error",
        message: "No. 1.",
        remedy: "Mend it.",
        atM: [1, 1],
        at: [1, 1],
      },
    ]);
  });

  it("shows twenty places and counts the rest", () => {
    expect(
      judge(rule(20))
        .findings.map(({ message }) => message)
        .at(-1),
    ).toBe("No. 19.");
    const { findings } = judge(rule(22));
    expect(findings).toHaveLength(20);
    expect(findings[18]!.message).toBe("No. 18.");
    expect(findings[19]!.message).toBe("No. 19. There are 2 more such places.");
  });
});
