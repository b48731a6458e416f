/**
 * The wire as laid against the plan: wires that were moved by known amounts, measured with known
 * errors. What is found is held against what was put in.
 */
import { readFile } from "node:fs/promises";
import { beforeAll, describe, expect, it } from "vitest";
import { checkPlan } from "../../src/check/check-plan.ts";
import { statedOfPlan } from "../../src/check/stated/from-plan.ts";
import type { StatedPlan } from "../../src/check/stated/stated-plan.ts";
import { type AsLaid, compareAsLaid } from "../../src/handover/as-laid/as-laid.ts";
import type { Track } from "../../src/handover/as-laid/track.ts";
import { planInputs } from "../../src/jobs/pegline.ts";
import type { PointM } from "../../src/model/geometry.ts";
import type { Site } from "../../src/model/site.ts";
import { builtInProfile } from "../../src/profile/built-in.ts";
import { seeded } from "../support/seeded.ts";

let plan: StatedPlan;
let site: Site;
const random = seeded(21);
/** Box and Muller 1958. */
const normal = () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());

beforeAll(async () => {
  const demo = new URL("../../fixtures/demo/house-garden.geojson", import.meta.url);
  const bytes = await readFile(demo);
  const made = await planInputs([{ name: "house-garden.geojson", bytes }]);
  if (!made.ok) throw new Error(made.problem.message);
  plan = statedOfPlan(made.value.plan);
  site = made.value.site;
});

/** The wire of all loops walked in laying order, a point every 15 cm, each vertex moved first. */
function walked(moveBy: (at: PointM, loop: number) => PointM, noiseM: number): Track {
  const lines = plan.loops.map(({ wire }, l) => {
    const at = (v: number): PointM => {
      const k = 2 * (v % (wire.length >> 1));
      const from: PointM = [wire[k]!, wire[k + 1]!];
      const by = moveBy(from, l);
      return [from[0] + by[0], from[1] + by[1]];
    };
    const flat: number[] = [];
    for (let v = 0; v < wire.length >> 1; v++) {
      const [a, b] = [at(v), at(v + 1)];
      const steps = Math.max(1, Math.ceil(Math.hypot(b[0] - a[0], b[1] - a[1]) / 0.15));
      for (let k = 0; k < steps; k++) {
        const share = k / steps;
        flat.push(
          a[0] + share * (b[0] - a[0]) + noiseM * normal(),
          a[1] + share * (b[1] - a[1]) + noiseM * normal(),
        );
      }
    }
    return Float64Array.from([...flat, flat[0]!, flat[1]!]);
  });
  return { points: [], lines };
}

const still = (): PointM => [0, 0];

function compared(track: Track, noiseM = 0.02, align = false): AsLaid {
  const made = compareAsLaid(plan, track, { noiseM, align });
  if (!made.ok) throw new Error(made.problem.message);
  return made.value;
}

const codes = ({ findings }: AsLaid) => findings.map((one) => one.code);

describe("a wire laid as planned", () => {
  it("is said to lie as planned, whatever a receiver of 2 cm makes of it", () => {
    const found = compared(walked(still, 0.02));
    expect(found.stretches.filter((one) => Math.abs(one.mostLeftM) > 0.06)).toEqual([]);
    const pegs = found.loops.flatMap((one) => one.pegs);
    // Three standard errors: some three in a thousand by chance alone, for errors along two axes.
    expect(pegs.filter((peg) => peg.moved).length).toBeLessThan(0.02 * pegs.length);
    expect(pegs.every((peg) => peg.measured)).toBe(true);
    for (const { plannedM, laidM } of found.loops)
      expect(Math.abs(laidM - plannedM)).toBeLessThan(0.1);
  });

  it("by its own pegs and by its own wire, to the tenth of a millimetre", () => {
    const points = plan.loops.flatMap(({ pegs }) =>
      pegs!.map(({ atM, number }) => ({ atM, name: number })),
    );
    for (const track of [{ points, lines: [] }, walked(still, 0)]) {
      const found = compared(track, 0.001);
      for (const one of found.loops) expect(one.mostM).toBeLessThan(1e-4);
      expect(found.stretches).toEqual([]);
    }
  });
});

describe("a wire laid elsewhere", () => {
  it("a run of pegs 25 cm further in is found, its length and ends too", () => {
    const loop = plan.loops[0]!;
    const pegs = loop.pegs!.filter((peg) => peg.on !== "pair");
    const moved = new Set(pegs.slice(20, 32).map((peg) => peg.number));
    const left = leftAt(loop.wire);
    const track = walked((at, l) => {
      const peg = loop.pegs!.find(
        (one) => Math.hypot(one.atM[0] - at[0], one.atM[1] - at[1]) < 0.02,
      );
      if (l !== 0 || !peg || !moved.has(peg.number)) return [0, 0];
      const [e, n] = left(at);
      return [0.25 * e, 0.25 * n];
    }, 0.01);
    const found = compared(track, 0.01);
    const worst = found.stretches[0]!;
    expect(worst.loop).toBe(loop.name);
    expect(Math.abs(worst.mostLeftM)).toBeGreaterThan(0.22);
    expect(Math.abs(worst.mostLeftM)).toBeLessThan(0.3);
    expect(worst.mostLeftM).toBeGreaterThan(0);
    const told = found.loops[0]!.pegs.filter((peg) => peg.awayM > 0.12).map((peg) => peg.number);
    expect(told.filter((one) => !moved.has(one)).length).toBeLessThanOrEqual(2);
    expect(told.filter((one) => moved.has(one)).length).toBeGreaterThanOrEqual(9);
  });

  it("surveyed pegs by number, and by place where they have no number", () => {
    const loop = plan.loops[0]!;
    const peg = loop.pegs!.find((one) => one.on === "straight")!;
    const points = loop.pegs!.map(({ atM, number }) => ({
      name: number,
      atM: (number === peg.number ? [atM[0] + 0.3, atM[1] - 0.4] : atM) as PointM,
    }));
    for (const nameless of [false, true]) {
      const given = points.map(({ atM, name }) => ({ atM, name: nameless ? undefined : name }));
      const found = compared({ points: given, lines: [] });
      const one = found.loops[0]!.pegs.find((each) => each.number === peg.number)!;
      expect(one.awayM).toBeCloseTo(nameless ? one.awayM : 0.5, 9);
      if (!nameless) expect(one.atM).toEqual([peg.atM[0] + 0.3, peg.atM[1] - 0.4]);
      expect(found.loops[0]!.pegs.filter((each) => each.moved).length).toBeGreaterThan(0);
    }
    const half = compared({ points: points.slice(0, 20), lines: [] });
    expect(codes(half)).toContain("WIRE_NOT_MEASURED");
  });

  it("breaks the judge's rules where it breaks them, and only there", () => {
    const profile = builtInProfile();
    const asPlanned = compared(walked(still, 0.005), 0.02);
    const held = checkPlan(site, profile, asPlanned.plan);
    expect(held.findings.map((one) => one.message)).toEqual([]);
    const loop = plan.loops[0]!;
    const left = leftAt(loop.wire);
    const peg = loop.pegs!.filter((one) => one.on === "straight")[12]!;
    const out = walked((at, l) => {
      if (l !== 0 || Math.hypot(peg.atM[0] - at[0], peg.atM[1] - at[1]) > 0.02) return [0, 0];
      const [e, n] = left(at);
      return [-0.15 * e, -0.15 * n];
    }, 0.005);
    const broken = checkPlan(site, profile, compared(out, 0.01).plan);
    expect(broken.verdict).toBe("broken");
    const setIn = broken.measures.find((one) => one.rule === "set-in")!;
    expect(setIn.holds).toBe(false);
    for (const finding of broken.findings) {
      const [e, n] = finding.atM!;
      expect(Math.hypot(e - peg.atM[0], n - peg.atM[1])).toBeLessThan(1.5);
    }
  });
});

describe("what is not the wire's doing", () => {
  it("a receiver 80 cm off is told as such, and taken off with align", () => {
    const track = walked(() => [0.6, -0.53], 0.02);
    const plain = compared(track);
    expect(codes(plain)).toContain("TRACK_SHIFTED");
    expect(plain.wholeM![0]).toBeCloseTo(0.6, 1);
    expect(plain.wholeM![1]).toBeCloseTo(-0.53, 1);
    const aligned = compared(track, 0.02, true);
    for (const one of aligned.loops) expect(one.rmsM).toBeLessThan(0.03);
  });

  it("a track elsewhere and an empty one are refused; a detour is told", () => {
    const far = compareAsLaid(
      plan,
      walked(() => [500, 0], 0),
      { noiseM: 0.02, align: false },
    );
    expect(far.ok ? "" : far.problem.code).toBe("TRACK_ELSEWHERE");
    const none = compareAsLaid(plan, { points: [], lines: [] }, { noiseM: 0.02, align: false });
    expect(none.ok ? "" : none.problem.code).toBe("TRACK_EMPTY");
    const { lines } = walked(still, 0);
    const detour = Float64Array.of(500, 500, 520, 500);
    expect(codes(compared({ points: [], lines: [...lines, detour] }))).toContain("TRACK_OFF_WIRE");
  });
});

/** Unit vector to the left of a ring at the vertex nearest to a place. */
function leftAt(ring: Float64Array) {
  const n = ring.length >> 1;
  return ([e, north]: PointM): PointM => {
    let best = 0;
    let least = Infinity;
    for (let v = 0; v < n; v++) {
      const away = Math.hypot(ring[2 * v]! - e, ring[2 * v + 1]! - north);
      if (away < least) [least, best] = [away, v];
    }
    const [a, b] = [(best + n - 1) % n, (best + 1) % n];
    const [de, dn] = [ring[2 * b]! - ring[2 * a]!, ring[2 * b + 1]! - ring[2 * a + 1]!];
    const length = Math.hypot(de, dn);
    return [-dn / length, de / length];
  };
}

describe("joints of the wire as laid", () => {
  it("those of the plan stay, those that were found are added, all are counted", () => {
    const [first, second] = plan.loops[0]!.pegs!.filter((peg) => peg.on === "straight");
    const jointed: StatedPlan = {
      ...plan,
      loops: plan.loops.map((loop) => ({
        ...loop,
        pegs: loop.pegs!.map((peg) => (peg === first ? { ...peg, joint: "J1" } : peg)),
      })),
    };
    const points = [{ atM: second!.atM, name: second!.number, joint: "mended" }];
    const compared = compareAsLaid(jointed, { points, lines: [] }, { noiseM: 0.02, align: false });
    if (!compared.ok) throw new Error(compared.problem.message);
    const found = compared.value.plan.loops.flatMap(({ pegs }) =>
      pegs!.flatMap(({ number, joint }) => (joint === undefined ? [] : [[number, joint]])),
    );
    expect(found).toEqual([
      [first!.number, "J1"],
      [second!.number, "mended"],
    ]);
  });
});
