/** The search for a break, against a wire that is broken at a place that the search does not know. */
import { readFile } from "node:fs/promises";
import { beforeAll, describe, expect, it } from "vitest";
import { statedOfPlan } from "../../src/check/stated/from-plan.ts";
import type { StatedPlan } from "../../src/check/stated/stated-plan.ts";
import type { Answer } from "../../src/handover/mend/break-search.ts";
import { byCapacitance, byLeak } from "../../src/handover/mend/fault-reading.ts";
import { type FaultKnown, mendLoop } from "../../src/handover/mend/mend-loop.ts";
import { planInputs } from "../../src/jobs/pegline.ts";
import { estate } from "../support/estates.ts";
import { geojsonInput } from "../support/planning.ts";
import { seeded } from "../support/seeded.ts";

interface Case {
  readonly name: string;
  readonly plan: StatedPlan;
}

const cases: Case[] = [];

beforeAll(async () => {
  const demo = new URL("../../fixtures/demo/house-garden.geojson", import.meta.url);
  const inputs = [
    { name: "house-garden.geojson", bytes: await readFile(demo) },
    geojsonInput(estate(3, { radiusM: 30, islands: 9, trees: 4 }).features),
  ];
  for (const input of inputs) {
    const made = await planInputs([input]);
    if (!made.ok) throw new Error(made.problem.message);
    cases.push({ name: input.name, plan: statedOfPlan(made.value.plan) });
  }
});

interface Found {
  readonly tests: number;
  /** Whether the stretch that is left holds the break. */
  readonly right: boolean;
  readonly walkM: number;
}

/** Answers as a meter would, until one stretch is left. */
function search(plan: StatedPlan, breakM: number, known: Omit<FaultKnown, "answers">): Found {
  const answers: Answer[] = [];
  let walkM = 0;
  for (let tests = 0; tests < 40; tests++) {
    const made = mendLoop(plan, { ...known, answers });
    if (!made.ok) throw new Error(made.problem.message);
    const { state } = made.value;
    if (state.found) {
      const { from, to } = state.found;
      return { tests, right: from.chainageM < breakM && breakM <= to.chainageM, walkM };
    }
    const { from, to, walkM: more } = state.next!;
    walkM += more;
    const carries = !(from.chainageM < breakM && breakM <= to.chainageM);
    answers.push({ from: from.name, to: to.name, carries });
  }
  throw new Error("not found in 40 tests");
}

const ohmPerKm = 13.3;

describe("a break anywhere in the wire", () => {
  // Halving a list takes ceil(log2 n) looks (binary search, Knuth, The Art of Computer Programming 3, 6.2.1, from memory).
  it("is found in at most ceil(log2(pegs)) + 1 tests: 1,000 places", () => {
    const random = seeded(11);
    let most = 0;
    for (let k = 0; k < 1000; k++) {
      const { plan } = cases[k % cases.length]!;
      const loop = plan.loops[k % plan.loops.length]!;
      const breakM = Math.max(1e-6, random() * loop.lengthM!);
      const found = search(plan, breakM, { loop: loop.name, joints: [], ohmPerKm });
      expect(found.right).toBe(true);
      const allowed = Math.ceil(Math.log2(loop.pegs!.length)) + 1;
      expect(found.tests).toBeLessThanOrEqual(allowed);
      most = Math.max(most, found.tests - allowed);
    }
    // The bound is reached: the test could fail.
    expect(most).toBeGreaterThan(-3);
  });

  it("with joints and a mistaken reading the promise is kept all the same: 300 places", () => {
    const random = seeded(12);
    for (let k = 0; k < 300; k++) {
      const { plan } = cases[k % cases.length]!;
      const loop = plan.loops[k % plan.loops.length]!;
      const pegs = loop.pegs!.filter((peg) => peg.on === "straight" && peg.chainageM! > 1);
      const joints = [0, 1, 2].map(() => pegs[Math.floor(random() * pegs.length)]!.number);
      const breakM = Math.max(1e-6, random() * loop.lengthM!);
      const share = 0.05 + 0.9 * random();
      const capacitanceNf = [20 * share, 20 * (1 - share)] as const;
      const known = { loop: loop.name, joints, capacitanceNf, ohmPerKm };
      const found = search(plan, breakM, known);
      expect(found.right).toBe(true);
      expect(found.tests).toBeLessThanOrEqual(Math.ceil(Math.log2(loop.pegs!.length)) + 1);
    }
  });

  it("a broken joint is found at once, a good reading saves tests and walking", () => {
    const { plan } = cases[0]!;
    const loop = plan.loops[0]!;
    const pegs = loop.pegs!.filter((peg) => peg.on === "straight" && peg.chainageM! > 2);
    const joint = pegs[pegs.length >> 1]!;
    const known = { loop: loop.name, joints: [joint.number], ohmPerKm };
    expect(search(plan, joint.chainageM!, known).tests).toBe(1);
    const random = seeded(13);
    const sums = { plain: 0, read: 0, plainWalk: 0, readWalk: 0 };
    for (let k = 0; k < 100; k++) {
      const breakM = Math.max(1e-6, random() * loop.lengthM!);
      const [a, b] = [breakM, loop.lengthM! - breakM];
      const plain = search(plan, breakM, { loop: loop.name, joints: [], ohmPerKm });
      const capacitanceNf = [0.1 * a, 0.1 * b] as const;
      const read = search(plan, breakM, { loop: loop.name, joints: [], ohmPerKm, capacitanceNf });
      sums.plain += plain.tests;
      sums.read += read.tests;
      sums.plainWalk += plain.walkM;
      sums.readWalk += read.walkM;
    }
    expect(sums.read).toBeLessThan(0.85 * sums.plain);
    expect(sums.readWalk).toBeLessThan(0.85 * sums.plainWalk);
  });

  it("two breaks are told, and answers that cannot be are refused", () => {
    const { plan } = cases[0]!;
    const loop = plan.loops[0]!.name;
    const ask = (...answers: [string, string, boolean][]) =>
      mendLoop(plan, {
        loop,
        joints: [],
        ohmPerKm,
        answers: answers.map(([from, to, carries]) => ({ from, to, carries })),
      });
    const two = ask([`${loop}10`, `${loop}20`, false], [`${loop}60`, `${loop}62`, false]);
    expect(two.ok && two.value.state.several).toBe(true);
    expect(two.ok && two.value.state.suspects.length).toBe(2);
    const codes = [
      ask([`${loop}10`, `${loop}20`, false], [`${loop}5`, `${loop}25`, true]),
      ask([`${loop}20`, `${loop}10`, false]),
      ask([`${loop}9999`, "end", false]),
    ].map((one) => (one.ok ? "" : one.problem.code));
    expect(codes).toEqual(["ANSWERS_CONTRADICT", "STRETCH_BACKWARDS", "PEG_UNKNOWN"]);
  });
});

describe("readings at both ends", () => {
  it("capacitance parts the wire in proportion (parallel plates of one kind: common practice)", () => {
    for (const share of [0.1, 0.5, 0.93]) {
      const { chainageM } = byCapacitance(300, 25 * share, 25 * (1 - share));
      expect(chainageM).toBeCloseTo(300 * share, 9);
    }
  });

  it("a leak lies where both ends see its resistance through their own wire (Ohm's law)", () => {
    const ohm = (lengthM: number) => (lengthM * 13.3) / 1000;
    for (const atM of [10, 120, 290]) {
      const found = byLeak(300, 13.3, 150 + ohm(atM), 150 + ohm(300 - atM))!;
      expect(found.chainageM).toBeCloseTo(atM, 6);
    }
    expect(byLeak(300, 13.3, 900, 100)).toBeUndefined();
  });

  it("errors as large as stated lie within two standard deviations 95 times in 100", () => {
    const random = seeded(14);
    const normal = () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
    let within = 0;
    for (let k = 0; k < 2000; k++) {
      const atM = 20 + 260 * random();
      const one = atM * 0.1 * (1 + 0.055 * normal());
      const other = (300 - atM) * 0.1 * (1 + 0.055 * normal());
      const { chainageM, uncertaintyM } = byCapacitance(300, one, other);
      if (Math.abs(chainageM - atM) <= 1.96 * uncertaintyM) within++;
    }
    expect(within / 2000).toBeGreaterThan(0.93);
    expect(within / 2000).toBeLessThan(0.97);
  });
});
