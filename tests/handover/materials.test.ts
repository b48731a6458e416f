/** Materials as properties on random sites: what is cut adds up, and joints fall where they may. */
import { describe, expect, it } from "vitest";
import { epsgRegistry } from "../../cli/epsg-registry.ts";
import { summaryOf } from "../../src/export/summary.ts";
import { materialsOf } from "../../src/handover/materials/materials.ts";
import { cutFromReels } from "../../src/handover/materials/reels.ts";
import { unrolledM, type WireToCut, wholeM, wiresOf } from "../../src/handover/materials/wires.ts";
import { quantitiesOf } from "../../src/handover/quantities.ts";
import { walkOf } from "../../src/handover/walk.ts";
import { builtInProfile, type Plan, planInputs } from "../../src/index.ts";
import type { PriceList } from "../../src/model/site-rules.ts";
import { geojsonInput } from "../support/planning.ts";
import { randomSite } from "../support/random-site.ts";
import { seeded } from "../support/seeded.ts";

const SEEDS = [3, 5, 8, 11, 14];
const REELS_M = [18, 37, 60, 200];

const planned = new Map(
  await Promise.all(
    SEEDS.map(async (seed) => {
      const profile = builtInProfile(seed % 2 ? "medium" : "large");
      const inputs = [geojsonInput(randomSite(seed).features)];
      const outcome = await planInputs(inputs, { profile, registry: epsgRegistry });
      if (!outcome.ok) throw new Error(outcome.problem.message);
      return [seed, outcome.value] as const;
    }),
  ),
);

const withReels = (plan: Plan, reelM: number): Plan => ({
  ...plan,
  profile: { ...plan.profile, wire: { ...plan.profile.wire, reelM } },
});

describe.each(SEEDS)("random site %i", (seed) => {
  const { plan, ground } = planned.get(seed)!;

  it.each(REELS_M)(
    "is cut from reels of %i m without a gap, and joints lie where they may",
    (reelM) => {
      const quantities = quantitiesOf(withReels(plan, reelM), ground);
      const { cutting, totals } = quantities;
      const wires = wiresOf(plan, ground);
      const cutM = cutting.reels.flatMap(({ pieces }) => pieces.map(({ lengthM }) => lengthM));
      expect(cutM.reduce((sum, one) => sum + one, 0)).toBeCloseTo(totals.wireToBuyM, 6);
      for (const reel of cutting.reels) {
        const usedM = reel.pieces.reduce((sum, { lengthM }) => sum + lengthM, 0);
        expect(usedM + reel.leftM).toBeCloseTo(reelM, 6);
        expect(usedM).toBeLessThanOrEqual(reelM + 1e-6);
      }
      wires.forEach((wire, index) => {
        const pieces = cutting.reels
          .flatMap((reel) => reel.pieces)
          .filter(({ wireIndex }) => wireIndex === index)
          .sort((a, b) => a.fromM - b.fromM);
        expect(pieces[0]!.fromM).toBe(0);
        expect(pieces.at(-1)!.toM).toBeCloseTo(wire.laidM, 6);
        pieces.slice(1).forEach((piece, k) => {
          expect(piece.fromM).toBe(pieces[k]!.toM);
        });
      });
      const { straightM } = plan.profile.station;
      for (const joint of cutting.joints) {
        if (joint.wire === "guide") continue;
        const loop = plan.loops.find(({ name }) => name === joint.loop)!;
        const peg = loop.pegs.find(({ number }) => number === joint.peg)!;
        expect(peg.chainageM).toBeCloseTo(joint.chainageM, 9);
        if (joint.fit !== "good") continue;
        expect(["straight", "bend"]).toContain(peg.on);
        expect(joint.chainageM).toBeGreaterThanOrEqual(Math.max(0.5, straightM));
        expect(joint.chainageM).toBeLessThanOrEqual(loop.lengthM - Math.max(0.5, straightM));
        // The wire passes a good peg once; what is walked twice is a paired run.
        const spans = walkOf(loop).filter(({ from, to }) => from.peg === peg || to.peg === peg);
        expect(spans.map(({ run }) => run)).toEqual([undefined, undefined]);
      }
      expect(totals.reels).toBeGreaterThanOrEqual(Math.ceil(totals.wireToBuyM / reelM - 1e-9));
    },
  );

  it("takes no more joints in one wire than any choice of pegs would", () => {
    for (const wire of wiresOf(plan, ground)) {
      const joints = cutFromReels([wire], 37).joints;
      if (joints.every(({ fit }) => fit === "good")) {
        expect(joints.length).toBe(fewestPieces(wire, 37) - 1);
      }
    }
  });

  it("has the totals of summary.json in every list", () => {
    const result = planned.get(seed)!;
    const materials = materialsOf(plan, result.quantities, ground);
    const { totals } = summaryOf(result);
    const toBuy = Object.fromEntries(materials.lines.map((one) => [one.material, one.toBuy]));
    expect(toBuy).toMatchObject({ reels: totals.reels, pegs: totals.pegs_to_buy });
    expect(toBuy).toMatchObject({ couplers: totals.joints, connectors: totals.connectors });
    expect(toBuy.wire).toBeCloseTo(totals.wire_to_buy_m, 4);
    expect(materials.joints.length).toBe(totals.joints);
    expect(materials.loops.reduce((sum, one) => sum + one.toCutM, 0)).toBeCloseTo(
      totals.wire_to_buy_m,
      4,
    );
    for (const line of materials.lines) {
      if (line.used !== undefined) expect(line.used + line.spare).toBeCloseTo(line.toBuy!, 6);
    }
    const own = materials.alternatives.find(({ chosen }) => chosen)!;
    expect(own).toMatchObject({ reels: totals.reels, joints: totals.joints });
  });

  it("is walked from station to station: spans add up to the wire, runs go out and come back", () => {
    for (const loop of plan.loops) {
      const spans = walkOf(loop);
      expect(spans.reduce((sum, { lengthM }) => sum + lengthM, 0)).toBeCloseTo(loop.lengthM, 6);
      expect(Math.min(...spans.map(({ lengthM }) => lengthM))).toBeGreaterThan(0);
      loop.pairedRuns.forEach((run, index) => {
        for (const way of ["out", "back"]) {
          const along = spans.filter((span) => span.run?.index === index && span.run.way === way);
          const lengthM = along.reduce((sum, span) => sum + span.lengthM, 0);
          // Each wire lies half a gap beside its pegs: a little longer or shorter at the two ends.
          expect(Math.abs(lengthM - run.lengthM)).toBeLessThan(0.05);
        }
      });
    }
  });
});

/** Fewest pieces of a wire by breadth-first search over all pegs fit for a joint. */
function fewestPieces(wire: WireToCut, reelM: number): number {
  const cuts = wire.places.filter(({ fit }) => fit === "good");
  const atM = [0, ...cuts.map(({ chainageM }) => unrolledM(wire, chainageM)), wholeM(wire)];
  const pieces = atM.map((_, i) => (i === 0 ? 0 : Infinity));
  for (let i = 1; i < atM.length; i++) {
    for (let k = 0; k < i; k++) {
      if (atM[i]! - atM[k]! <= reelM + 1e-9) pieces[i] = Math.min(pieces[i]!, pieces[k]! + 1);
    }
  }
  return pieces.at(-1)!;
}

describe("cutting many wires", () => {
  const wire = (name: string, laidM: number): WireToCut => ({
    loop: name,
    wire: "boundary",
    laidM,
    slackShare: 0,
    startSpareM: 1,
    endSpareM: 1,
    places: Array.from({ length: Math.floor(laidM) }, (_, k) => ({
      peg: `${name}${k}`,
      atM: [k, 0] as const,
      chainageM: k,
      on: "straight" as const,
      fit: k < 2 || k > laidM - 2 ? ("station" as const) : ("good" as const),
    })),
  });

  it("keeps to the reels that running them off one after the other takes, within a peg each", () => {
    const random = seeded(41);
    for (let round = 0; round < 200; round++) {
      const wires = Array.from({ length: 1 + Math.floor(6 * random()) }, (_, i) =>
        wire("ABCDEF"[i]!, 20 + 400 * random()),
      );
      const needM = wires.reduce((sum, one) => sum + wholeM(one), 0);
      const { reels, joints, leftM } = cutFromReels(wires, 200);
      expect(reels.length * 200 - leftM).toBeCloseTo(needM, 6);
      expect(joints.every(({ fit }) => fit === "good")).toBe(true);
      // Each joint may leave up to a peg's distance on its reel, each wire a rest under 10 m.
      expect(reels.length).toBeLessThanOrEqual(
        Math.ceil((needM + joints.length + 10 * wires.length) / 200),
      );
    }
  });

  it("uses a rest for a whole wire before a new reel is opened", () => {
    const { reels, joints } = cutFromReels([wire("A", 120), wire("B", 70), wire("C", 150)], 200);
    expect(reels.map(({ pieces }) => pieces.map(({ loop }) => loop))).toEqual([["A", "B"], ["C"]]);
    expect(joints).toEqual([]);
  });
});

describe("reel sizes compared", () => {
  const { plan, quantities } = planned.get(3)!;
  const item = (name: string, per: "reel" | "coupler", unitPrice: number, reelM?: number) => ({
    name,
    per,
    unitPrice,
    ...(reelM === undefined ? {} : { reelM }),
  });

  it("prices each size by its own reels and couplers, with tax", () => {
    const list: PriceList = {
      currency: "EUR",
      taxRate: 0.2,
      items: [item("R30", "reel", 20, 30), item("R200", "reel", 90, 200), item("C", "coupler", 3)],
    };
    const { alternatives, prices } = materialsOf(plan, quantities, undefined, list);
    expect(alternatives.map(({ reelM }) => reelM)).toEqual([30, 200]);
    const [small, large] = alternatives;
    expect(small!.total).toBeCloseTo(1.2 * (20 * small!.reels + 3 * small!.joints), 2);
    expect(large!.total).toBeCloseTo(1.2 * (90 * large!.reels + 3 * large!.joints), 2);
    expect(large!.chosen).toBe(true);
    expect(prices!.total).toBe(large!.total);
    expect(small!.boughtM - small!.leftM).toBeCloseTo(quantities.totals.wireToBuyM, 6);
  });

  it("compares usual sizes where no price names one, and prices only the own", () => {
    const list: PriceList = { currency: "EUR", taxRate: 0, items: [item("Reel", "reel", 90)] };
    const { alternatives } = materialsOf(plan, quantities, undefined, list);
    expect(alternatives.length).toBe(6);
    expect(
      alternatives.filter(({ total }) => total !== undefined).map((one) => one.chosen),
    ).toEqual([true]);
  });
});
