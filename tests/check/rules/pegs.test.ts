/** Rules of pegs on wires whose lengths are known by hand. */
import { describe, expect, it } from "vitest";
import type { Rule } from "../../../src/check/rule.ts";
import {
  chainage,
  pegNumbers,
  pegsOnWire,
  spans,
  verticesOnPegs,
} from "../../../src/check/rules/pegs.ts";
import type { StatedPeg } from "../../../src/check/stated/stated-plan.ts";
import { box, siteOf } from "../../plan/shapes.ts";
import { corners, courtOf, loop, measure } from "./scene.ts";

const site = siteOf([box(-10, -10, 30, 30)]);

type Said = Partial<Omit<StatedPeg, "atM">>;
const peg = (number: string, e: number, n: number, said: Said = {}): StatedPeg => ({
  number,
  atM: [e, n],
  chainageM: undefined,
  secondChainageM: undefined,
  on: undefined,
  ...said,
});

/** 2 m by 1 m, a peg every metre. */
const FLAT: readonly (readonly [number, number])[] = [
  [0, 0],
  [1, 0],
  [2, 0],
  [2, 1],
  [1, 1],
  [0, 1],
];
const flat = (change: (pegs: StatedPeg[]) => void = () => undefined) => {
  const pegs = FLAT.map(([e, n], i) => peg(`A${i + 1}`, e, n, { chainageM: i }));
  change(pegs);
  return courtOf(site, [loop(corners(0, 0, 2, 1), { pegs })]);
};
const of = (rule: Rule, change?: (pegs: StatedPeg[]) => void) => measure(rule, flat(change));

/** One of the pegs changed for another. */
const withPeg = (i: number, other: StatedPeg) => (pegs: StatedPeg[]) => {
  pegs[i] = other;
};

describe("without pegs", () => {
  it.each([pegsOnWire, verticesOnPegs, spans, pegNumbers, chainage])(
    "$id is not measured",
    (rule) => {
      for (const pegs of [undefined, []]) {
        const found = measure(rule, courtOf(site, [loop(corners(0, 0, 2, 1), { pegs })]));
        expect(found).toMatchObject({ holds: null, bound: "at most" });
        expect(found.unit).toBe(rule === pegNumbers ? "count" : "m");
        expect(found.note).toBe(
          rule === chainage ? "no peg states its distance" : "the plan has no pegs",
        );
      }
    },
  );
});

describe("pegs on wire", () => {
  it("within 10 mm", () => {
    expect(of(pegsOnWire)).toMatchObject({ holds: true, measured: 0, allowed: 0.01, unit: "m" });
    expect(of(pegsOnWire).bound).toBe("at most");
    const off = (m: number) =>
      of(pegsOnWire, (pegs) => {
        pegs[1] = peg("A2", 1, -m);
      });
    expect(off(0.0099)).toMatchObject({ holds: true, measured: 0.0099 });
    expect(off(0.0101)).toMatchObject({ holds: false, measured: 0.0101 });
    expect(off(3).said).toEqual([
      "Peg A2 of loop A stands 3.000 m from its wire. Move the peg onto the wire, or the wire to the peg.",
    ]);
    expect(off(3).breaches[0]!.atM).toEqual([1, -3]);
    expect(off(25_000).measured).toBe(25_000);
  });

  it("of its own loop: the wire of another does not count", () => {
    const other = loop(corners(0, 5, 2, 6), { name: "B", pegs: [peg("B1", 1, 0)] });
    const found = measure(pegsOnWire, courtOf(site, [loop(corners(0, 0, 2, 1)), other]));
    expect(found).toMatchObject({ holds: false, measured: 5 });
    expect(found.said[0]).toContain("Peg B1 of loop B stands 5.000 m");
  });
});

describe("bends on pegs", () => {
  it("within 10 mm", () => {
    expect(of(verticesOnPegs)).toMatchObject({ holds: true, measured: 0, allowed: 0.01 });
    expect(of(verticesOnPegs)).toMatchObject({ unit: "m", bound: "at most" });
    const off = (m: number) =>
      of(verticesOnPegs, (pegs) => {
        pegs[2] = peg("A3", 2 - m, 0);
      });
    expect(off(0.0099).holds).toBe(true);
    expect(off(0.0101).holds).toBe(false);
    expect(off(0.3).said).toEqual([
      "The wire of loop A bends 0.300 m from the nearest peg: without one it will not lie so. Set a peg there, or draw the wire straight.",
    ]);
    expect(off(0.3).breaches[0]!.atM).toEqual([2, 0]);
    const far = courtOf(site, [loop(corners(0, 0, 2, 1), { pegs: [peg("A1", 0, 500)] })]);
    expect(measure(verticesOnPegs, far).measured).toBe(100);
  });
});

describe("spans", () => {
  it("of 1 m, over the wire and round its seam", () => {
    expect(of(spans)).toMatchObject({ holds: true, measured: 1, allowed: 1, unit: "m" });
    expect(of(spans).bound).toBe("at most");
    const found = of(spans, (pegs) => {
      pegs.splice(4, 1);
    });
    expect(found).toMatchObject({ holds: false, measured: 2 });
    expect(found.said).toEqual([
      "After peg A4 of loop A the wire runs 2.000 m without a peg; at most 1.00 m are allowed. Set a peg between.",
    ]);
    expect(found.breaches[0]!.atM).toEqual([2, 1]);
    // The last peg's span ends at the first, over the seam.
    expect(
      of(spans, (pegs) => {
        pegs.splice(5, 1);
      }).said[0],
    ).toContain("After peg A5 of loop A the wire runs 2.000 m");
    expect(
      of(spans, (pegs) => {
        pegs.splice(0, 1);
      }).said[0],
    ).toContain("After peg A6 of loop A the wire runs 2.000 m");
  });

  it("0.2 mm over the limit are rounding", () => {
    const one = (m: number) => of(spans, withPeg(1, peg("A2", 1 + m, 0)));
    expect(one(0.00019).holds).toBe(true);
    expect(one(0.00021).holds).toBe(false);
  });

  it("pegs that are off the wire hold nothing, whatever their order in the file", () => {
    expect(of(spans, withPeg(1, peg("A2", 1, 0.02))).measured).toBe(2);
    expect(of(spans, (pegs) => void pegs.reverse())).toMatchObject({ holds: true, measured: 1 });
  });

  it("the longest of all is shown", () => {
    const found = of(spans, (pegs) => {
      pegs.splice(1, 2);
    });
    expect(found.measured).toBe(3);
    expect(found.breaches).toHaveLength(1);
  });
});

describe("numbers", () => {
  it("follow the wire from the station", () => {
    expect(of(pegNumbers)).toMatchObject({ holds: true, measured: 0, allowed: 0, unit: "count" });
    expect(of(pegNumbers).bound).toBe("at most");
    expect(of(pegNumbers, (pegs) => void pegs.reverse()).holds).toBe(true);
    const found = of(pegNumbers, (pegs) => {
      pegs[2] = peg("A4", 2, 0);
      pegs[3] = peg("A3", 2, 1);
    });
    expect(found).toMatchObject({ holds: false, measured: 2 });
    expect(found.said).toEqual([
      "2 pegs of loop A are numbered out of order; the first is A4, which comes as A3 along the wire. Number the pegs along the wire from the station.",
    ]);
    expect(found.breaches[0]!.atM).toEqual([2, 0]);
    expect(of(pegNumbers, withPeg(0, peg("", 0, 0))).said[0]).toContain(
      "the first is without a number, which comes as A1",
    );
  });

  it("a peg off the wire comes last", () => {
    const found = of(pegNumbers, withPeg(1, peg("A2", 1, 0.4)));
    expect(found.said[0]).toContain("5 pegs of loop A are numbered out of order; the first is A3");
  });

  it("pegs millimetres apart go by what they state; a false statement changes nothing", () => {
    const near = (first: number, second: number) =>
      of(pegNumbers, (pegs) => {
        pegs.splice(
          1,
          1,
          peg("A2", 1, 0, { chainageM: first }),
          peg("A3", 1.004, 0, { chainageM: second }),
        );
        for (let i = 3; i < pegs.length; i++) pegs[i] = { ...pegs[i]!, number: `A${i + 1}` };
      });
    expect(near(1, 1.004).holds).toBe(true);
    expect(near(1.006, 1.004).measured).toBe(2);
    expect(near(4.5, 1.004).holds).toBe(true);
    // 20 mm are believed, more are not.
    expect(near(1.0201, 1.004).holds).toBe(true);
    expect(near(1.0199, 1.004).holds).toBe(false);
  });
});

/** A slit of 10 mm in the middle of the top, 1 m deep: the wire comes by its pegs twice. */
const SLIT = [0, 0, 2, 0, 2, 2, 1.005, 2, 1.005, 1, 0.995, 1, 0.995, 2, 0, 2];
const slit = (said: Said, at: readonly [number, number] = [1, 2]) =>
  courtOf(site, [
    loop(SLIT, { pegs: [peg("A1", 0, 0, { chainageM: 0 }), peg("A2", ...at, said)] }),
  ]);

describe("chainage", () => {
  it("is that of the wire, to 1 mm and 2 ppm", () => {
    expect(of(chainage)).toMatchObject({ holds: true, measured: 0, allowed: 0.001, unit: "m" });
    expect(of(chainage).bound).toBe("at most");
    const at = (chainageM: number) => of(chainage, withPeg(2, peg("A3", 2, 0, { chainageM })));
    expect(at(2.00099).holds).toBe(true);
    expect(at(1.99901).holds).toBe(true);
    expect(at(2.00099).measured).toBeCloseTo(0.00099, 9);
    expect(at(2.0011).holds).toBe(false);
    expect(at(2.5).said).toEqual([
      "Peg A3 of loop A is stated at 2.500 m along the wire; it stands at 2.000. Measure the distances along the wire again; setting out goes by them.",
    ]);
    expect(at(2.5)).toMatchObject({ measured: 0.5 });
    expect(at(2.5).breaches[0]!.atM).toEqual([2, 0]);
    expect(at(Number.NaN)).toMatchObject({ holds: false });
  });

  it("of a peg that is beside no wire there is none", () => {
    const found = of(chainage, withPeg(1, peg("A2", 1, 0.4, { chainageM: 1 })));
    expect(found.said[0]).toContain(
      "is stated at 1.000 m along the wire; it stands at no place of it.",
    );
    expect(found.measured).toBe(1);
  });

  it("a peg between two vertices stands where it is nearest", () => {
    expect(of(chainage, withPeg(1, peg("A2", 0.7, 0.004, { chainageM: 0.7 })))).toMatchObject({
      holds: true,
    });
  });

  it("pegs of a pair have both distances", () => {
    // 2 + 2 + 0.995 to the first, 1 + 0.01 + 1 more to the second.
    const both = { chainageM: 4.995, secondChainageM: 7.005 };
    expect(measure(chainage, slit(both)).holds).toBe(true);
    const one = measure(chainage, slit({ chainageM: 4.995 }));
    expect(one.holds).toBe(false);
    expect(one.said[0]).toContain(
      "The wire comes by peg A2 of loop A 2 times, of which 1 are stated.",
    );
    expect(one.measured).toBeCloseTo(7.005, 9);
    expect(measure(chainage, slit({})).said[0]).toContain("2 times, of which 0 are stated");
    expect(measure(chainage, slit({ ...both, secondChainageM: 7.05 })).said[0]).toContain(
      "is stated at 7.050 m along the wire; it stands at 4.995 and 7.005.",
    );
    // Half way down, where no vertex is near.
    expect(
      measure(chainage, slit({ chainageM: 5.495, secondChainageM: 6.505 }, [1, 1.5])).holds,
    ).toBe(true);
  });

  it("the end of a pair turns round its peg: that is one pass", () => {
    expect(measure(chainage, slit({ chainageM: 5.995 }, [1, 1])).holds).toBe(true);
    expect(measure(chainage, slit({ chainageM: 6.005 }, [1, 1])).holds).toBe(true);
    expect(measure(chainage, slit({ chainageM: 5.9 }, [1, 1])).holds).toBe(false);
  });
});
