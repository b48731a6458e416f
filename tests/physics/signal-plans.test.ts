import { readdirSync } from "node:fs";
import { readFile } from "node:fs/promises";
import { describe, expect, it } from "vitest";
import { epsgRegistry } from "../../cli/epsg-registry.ts";
import { planInputs } from "../../src/jobs/pegline.ts";
import type { RingM } from "../../src/model/geometry.ts";
import type { Plan } from "../../src/model/plan.ts";
import { signalOf } from "../../src/physics/signal/signal.ts";
import type { Xy } from "../support/plane.ts";
import { geojsonInput } from "../support/planning.ts";
import { randomSite } from "../support/random-site.ts";
import { inside } from "../support/segments.ts";

const DEMOS = [
  "house-garden.geojson",
  "house-garden-station.geojson",
  "house-garden-no-wire.geojson",
  "house-garden.kml",
  "house-garden-shapefile.zip",
];
/** Real ground, with its source and licence in SOURCES.md there. */
const PLOTS = readdirSync("tests/fixtures/plots").filter((name) => name.endsWith(".geojson"));

async function planOf(inputs: Parameters<typeof planInputs>[0]): Promise<Plan> {
  const outcome = await planInputs(inputs, { registry: epsgRegistry });
  if (!outcome.ok) throw new Error(outcome.problem.message);
  return outcome.value.plan;
}

const demo = async (name: string) => ({
  name,
  bytes: new Uint8Array(await readFile(`fixtures/demo/${name}`)),
});

/** The plan with another wire in its first loop. */
function rewired(plan: Plan, change: (wire: RingM) => RingM): Plan {
  const [first, ...rest] = plan.loops;
  return { ...plan, loops: [{ ...first!, wire: change(first!.wire) }, ...rest] };
}

// The sign of the field (Biot and Savart) against the side of the wire by crossings (even-odd): two
// ways to the same answer that share nothing. Also an independent proof of the winding.
describe("the signal of plans", () => {
  for (const name of DEMOS) {
    it(`has the sign of the side everywhere: ${name}`, async () => {
      const signals = signalOf(await planOf([await demo(name)]), { points: 5000 });
      expect(signals.length).toBeGreaterThan(0);
      for (const signal of signals) {
        expect(signal.wrongAtM).toEqual([]);
        expect(signal.points).toBeGreaterThan(4000);
        expect(signal.leastUtPerA).toBeGreaterThan(0);
      }
    });
  }

  for (const name of PLOTS) {
    it(`has the sign of the side everywhere: ${name}`, async () => {
      const bytes = new Uint8Array(await readFile(`tests/fixtures/plots/${name}`));
      for (const signal of signalOf(await planOf([{ name, bytes }]), { points: 1500 })) {
        expect(signal.wrongAtM, `loop ${signal.loop}`).toEqual([]);
        expect(signal.points).toBeGreaterThan(1000);
      }
    });
  }

  it("has the sign of the side everywhere on 15 random sites", async () => {
    for (let seed = 1; seed <= 15; seed++) {
      const plan = await planOf([geojsonInput(randomSite(seed).features)]);
      for (const signal of signalOf(plan, { points: 1500 })) {
        expect(signal.wrongAtM, `seed ${seed}, loop ${signal.loop}`).toEqual([]);
      }
    }
  });

  it("is out inside every exclusion loop and in over every mown area", async () => {
    const plan = await planOf([await demo(DEMOS[0]!)]);
    const { upwardFieldUtPerA } = await import("../../src/physics/signal/field.ts");
    const { currentPathOf } = await import("../../src/physics/signal/current-path.ts");
    for (const loop of plan.loops) {
      const path = currentPathOf(loop.wire);
      for (const { ring } of loop.exclusionLoops) {
        for (const [e, n] of spots(ring)) expect(upwardFieldUtPerA(path, e, n)).toBeLessThan(0);
      }
      for (const { areas } of plan.mown.filter((area) => area.loop === loop.name)) {
        for (const { shell, holes } of areas) {
          const mown = spots(shell).filter((at) => !holes.some((hole) => inside(at, points(hole))));
          expect(mown.length).toBeGreaterThan(5);
          for (const [e, n] of mown) expect(upwardFieldUtPerA(path, e, n)).toBeGreaterThan(0);
        }
      }
    }
  });

  it("shows a wire laid the wrong way round", async () => {
    const plan = await planOf([await demo(DEMOS[0]!)]);
    const turned = rewired(plan, (wire) => {
      const back = points(wire).reverse();
      return new Float64Array(back.flat());
    });
    expect(signalOf(turned)[0]!.wrongAtM.length).toBeGreaterThan(0);
  });

  it("shows a wire that crosses itself, and an island passed round the wrong way", () => {
    const ring = (...at: [number, number][]) => new Float64Array(at.flat());
    const eight = ring([0, 0], [10, 10], [10, 0], [0, 10]);
    // Round an island at (5, 5): in along a pair from the south, then anticlockwise, where the outer
    // wire runs anticlockwise too, so the wires of the pair cross.
    const island = (wrong: boolean): RingM => {
      const round: [number, number][] = [
        [4, 4],
        [4, 6],
        [6, 6],
        [6, 4],
      ];
      return ring(
        [0, 0],
        [4.995, 0],
        ...(wrong ? round.reverse() : round),
        [5.005, 0],
        [10, 0],
        [10, 10],
        [0, 10],
      );
    };
    const of = (wire: RingM) => {
      const plan = { loops: [{ name: "A", wire }], profile: { wire: { pairGapM: 0.01 } } };
      return signalOf(plan as unknown as Plan, { points: 2000 })[0]!;
    };
    expect(of(eight).wrongAtM.length).toBeGreaterThan(0);
    expect(of(island(true)).wrongAtM.length).toBeGreaterThan(0);
    expect(of(island(false)).wrongAtM).toEqual([]);
  });
});

const points = (ring: RingM): Xy[] =>
  Array.from({ length: ring.length / 2 }, (_, i) => [ring[2 * i]!, ring[2 * i + 1]!]);

/** Points of a coarse grid inside a ring. */
function spots(ring: RingM): Xy[] {
  const corners = points(ring);
  const [es, ns] = [corners.map(([e]) => e), corners.map(([, n]) => n)];
  const out: Xy[] = [];
  for (let i = 0.5; i < 12; i++) {
    for (let k = 0.5; k < 12; k++) {
      const e = Math.min(...es) + (i / 12) * (Math.max(...es) - Math.min(...es));
      const n = Math.min(...ns) + (k / 12) * (Math.max(...ns) - Math.min(...ns));
      if (inside([e, n], corners)) out.push([e, n]);
    }
  }
  return out;
}
