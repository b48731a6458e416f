/** From a stated plan and answers to the search for a break: what does not fit together is told. */
import { describe, expect, it } from "vitest";
import type { StatedLoop, StatedPeg } from "../../src/check/stated/stated-plan.ts";
import { type FaultKnown, mendLoop } from "../../src/handover/mend/mend-loop.ts";
import { loop } from "../check/rules/scene.ts";

const peg = (
  number: string,
  e: number,
  n: number,
  chainageM?: number,
  second?: number,
): StatedPeg =>
  ({ number, atM: [e, n], chainageM, secondChainageM: second, on: undefined }) as StatedPeg;
/** A square of 10 m with a peg at each corner. */
const PEGS = [
  peg("A1", 0, 0, 0),
  peg("A2", 10, 0, 10),
  peg("A3", 10, 10, 20),
  peg("A4", 0, 10, 30),
];
const square = (said: Partial<StatedLoop> = {}) =>
  loop([0, 0, 10, 0, 10, 10, 0, 10], { pegs: PEGS, ...said });
const known = (more: Partial<FaultKnown> = {}): FaultKnown => ({
  answers: [],
  joints: [],
  ohmPerKm: 20,
  ...more,
});
const mend = (more: Partial<FaultKnown> = {}, loops = [square()]) =>
  mendLoop({ loops, passages: undefined, mown: undefined }, known(more));
const codeOf = (outcome: ReturnType<typeof mend>) => (outcome.ok ? "done" : outcome.problem.code);

describe("the loop", () => {
  it("is the only one, or the one that is named", () => {
    const two = [
      square(),
      square({
        name: "B",
        pegs: PEGS.map((one) => ({ ...one, number: one.number.replace("A", "B") })),
      }),
    ];
    expect(codeOf(mend())).toBe("done");
    expect(codeOf(mend({}, two))).toBe("LOOP_NOT_CHOSEN");
    expect(codeOf(mend({ loop: "B" }, two))).toBe("done");
    expect(codeOf(mend({ loop: "C" }, two))).toBe("LOOP_UNKNOWN");
    const outcome = mend({ loop: "C" }, two);
    if (!outcome.ok) expect(outcome.problem.remedy).toBe("Its loops are A, B.");
  });

  it("needs two pegs with chainage", () => {
    expect(codeOf(mend({}, [square({ pegs: undefined })]))).toBe("PLAN_WITHOUT_PEGS");
    expect(codeOf(mend({}, [square({ pegs: [peg("A1", 0, 0, 0), peg("A2", 10, 0)] })]))).toBe(
      "PLAN_WITHOUT_PEGS",
    );
  });
});

describe("answers and joints", () => {
  it("name pegs that are there, twice where the wire comes by twice", () => {
    expect(codeOf(mend({ joints: ["A9"] }))).toBe("PEG_UNKNOWN");
    expect(codeOf(mend({ joints: ["A2"] }))).toBe("done");
    const pegs = [...PEGS.slice(0, 3), peg("A4", 0, 10, 30, 35)];
    expect(codeOf(mend({ joints: ["A4/2"] }, [square({ pegs })]))).toBe("done");
    expect(codeOf(mend({ joints: ["A4/2"] }))).toBe("PEG_UNKNOWN");
    expect(codeOf(mend({ answers: [{ from: "A1", to: "A7", works: true } as never] }))).toBe(
      "PEG_UNKNOWN",
    );
    expect(codeOf(mend({ answers: [{ from: "A8", to: "A2", works: true } as never] }))).toBe(
      "PEG_UNKNOWN",
    );
  });

  it("joints that the plan states are known too", () => {
    const pegs = PEGS.map((one, i) => (i === 2 ? { ...one, joint: "A B" } : one)) as StatedPeg[];
    const outcome = mend({ joints: ["A2"] }, [square({ pegs })]);
    expect(outcome.ok && outcome.value.joints).toEqual(["A2", "A3"]);
  });
});

describe("readings", () => {
  it("of capacitance share the wire by their ratio", () => {
    const outcome = mend({ capacitanceNf: [1, 3] });
    // A quarter of 40 m.
    expect(outcome.ok && outcome.value.estimate?.chainageM).toBeCloseTo(10, 6);
  });

  it("of a leak differ by no more than the whole wire has", () => {
    // 40 m at 20 ohm a kilometre: 0.8 ohm.
    expect(codeOf(mend({ leakOhm: [5, 5.4] }))).toBe("done");
    const outcome = mend({ leakOhm: [5, 7] });
    expect(codeOf(outcome)).toBe("READINGS_IMPOSSIBLE");
    if (!outcome.ok) expect(outcome.problem.message).toContain("more than the 0.8 ohm");
  });

  it("go by the stated length, else by the line's own", () => {
    const of = (lengthM: number | undefined) => {
      const outcome = mend({ capacitanceNf: [1, 1] }, [square({ lengthM })]);
      return outcome.ok ? outcome.value.estimate?.chainageM : undefined;
    };
    expect(of(undefined)).toBeCloseTo(20, 6);
    expect(of(44)).toBeCloseTo(22, 6);
  });
});
