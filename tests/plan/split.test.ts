/** Lawn that is more than one loop may have: limits, spacing, load and number of its loops. */
import { readdirSync } from "node:fs";
import { readFile } from "node:fs/promises";
import { beforeAll, describe, expect, it } from "vitest";
import { epsgRegistry } from "../../cli/epsg-registry.ts";
import { loadEngine } from "../../src/geometry/engine.ts";
import { LineChords } from "../../src/geometry/line-chords.ts";
import { difference } from "../../src/geometry/overlay.ts";
import { areaM2 } from "../../src/geometry/rings.ts";
import { withoutShortEdges } from "../../src/geometry/short-edges.ts";
import { readSite } from "../../src/jobs/pegline.ts";
import type { AreaM, RingM } from "../../src/model/geometry.ts";
import type { Plan } from "../../src/model/plan.ts";
import { type Region, regionOf } from "../../src/plan/cut-region.ts";
import { Directions, sketch } from "../../src/plan/divide.ts";
import { findParts } from "../../src/plan/parts.ts";
import { planSite } from "../../src/plan/plan-site.ts";
import { splitPart } from "../../src/plan/split.ts";
import { wireNeededM } from "../../src/plan/split-bound.ts";
import { builtInProfile } from "../../src/profile/built-in.ts";
import type { ProfileName } from "../../src/profile/names.ts";
import { estate } from "../support/estates.ts";
import { multiPolygonOf, polygonOf } from "../support/jsts.ts";
import { geojsonInput, judgeWritten, planDrawn } from "../support/planning.ts";
import { organicRing, seeded } from "../support/seeded.ts";
import { Pen, rectangle } from "../support/sites.ts";

beforeAll(() => loadEngine());

async function planned(
  input: { readonly name: string; readonly bytes: Uint8Array },
  profile: ProfileName,
  split = true,
): Promise<Plan> {
  const site = await readSite([input], { registry: epsgRegistry });
  if (!site.ok) throw new Error(site.problem.message);
  const plan = planSite(site.value, builtInProfile(profile), { split });
  if (!plan.ok) throw new Error(plan.problem.message);
  return plan.value;
}

const lawn = (width: number, height: number) =>
  geojsonInput(new Pen().lawn(rectangle(width, height)).drawn.features);

const messages = (plan: Plan, code: string): string[] =>
  plan.findings.filter((one) => one.code === code).map((one) => one.message);

/** Distance between the wires of two loops, by JTS. */
function apartM(a: RingM, b: RingM): number {
  return polygonOf(a).getBoundary().distance(polygonOf(b).getBoundary());
}

function boxesWithin(a: RingM, b: RingM, reachM: number): boolean {
  const [p, q] = [polygonOf(a), polygonOf(b)].map((one) => one.getEnvelopeInternal());
  p.expandBy(reachM);
  return p.intersects(q);
}

/** Every promise made of divided parts; what falls short, in words. */
function shortfalls(plan: Plan): string[] {
  const { loop: limits } = plan.profile;
  const short: string[] = [];
  const mown = new Map(plan.mown.map((one) => [one.loop, one.areaM2]));
  for (const { name, lengthM } of plan.loops) {
    if (lengthM > limits.lengthMaxM) short.push(`${name} has ${lengthM} m of wire`);
    if (mown.get(name)! > limits.areaMaxM2) short.push(`${name} has ${mown.get(name)} m²`);
  }
  for (const message of messages(plan, "LOOPS_SPLIT")) {
    const [, count, names] = /divided into (\d+) loops \(([^)]*)\)/.exec(message)!;
    const least = /(?:at least|No fewer)/.exec(message);
    if (!least) short.push(`no bound: ${message}`);
    const own = loopsNamed(plan, names!);
    if (own.length !== Number(count)) short.push(`${own.length} loops, not ${count}`);
    const loads = own.map((one) => mown.get(one.name)!);
    const balance = Math.min(...loads) / Math.max(...loads);
    // Loads within 15 % of each other, whatever decides the number of loops.
    if (balance < 1 / 1.15) short.push(`loads of ${names} within ${balance}: ${loads.join(", ")}`);
    own.forEach((one, i) => {
      for (const other of own.slice(i + 1)) {
        if (!boxesWithin(one.wire, other.wire, limits.spacingM)) continue;
        const apart = apartM(one.wire, other.wire);
        if (apart < limits.spacingM - 0.001) {
          short.push(`${one.name} and ${other.name} are ${apart} m apart`);
        }
      }
    });
  }
  const sum = [...plan.mown, ...plan.cutOff, plan.handTrim].reduce((s, one) => s + one.areaM2, 0);
  if (Math.abs(sum - plan.groundM2) > 0.01) short.push(`${sum} m² of ${plan.groundM2}`);
  for (const one of plan.findings) if (one.severity === "error") short.push(one.message);
  return short;
}

function loopsNamed(plan: Plan, names: string) {
  const [first, last] = names.split(" to ");
  if (last === undefined) {
    const list = names.split(", ");
    return plan.loops.filter((one) => list.includes(one.name));
  }
  const from = plan.loops.findIndex((one) => one.name === first);
  const to = plan.loops.findIndex((one) => one.name === last);
  return plan.loops.slice(from, to + 1);
}

describe("a rectangle", () => {
  it.each(["small", "medium", "large"] as const)("of 40 m × 25 m is one loop: %s", async (name) => {
    const plan = await planned(lawn(40, 25), name);
    expect(plan.loops.map((one) => one.lengthM.toFixed(1))).toEqual(["127.6"]);
    expect(messages(plan, "LOOPS_SPLIT")).toEqual([]);
  });

  it("of 100 m × 40 m is halved across, medium: each half 49.2 m × 39.4 m", async () => {
    const plan = await planned(lawn(100, 40), "medium");
    // Inside the wire 99.4 m × 39.4 m, less a strip of 1 m (and 3 mm for rounding) in the middle.
    const half = (99.4 - 1.003) / 2;
    for (const one of plan.mown) expect(one.areaM2).toBeCloseTo(half * 39.4, -0.5);
    expect(plan.loops).toHaveLength(2);
    for (const one of plan.loops) expect(one.lengthM).toBeCloseTo(2 * (half + 39.4), 0);
    expect(apartM(plan.loops[0]!.wire, plan.loops[1]!.wire)).toBeCloseTo(1.003, 3);
    const between = plan.cutOff.filter((one) => one.reason === "between two loops");
    expect(between.reduce((sum, one) => sum + one.areaM2, 0)).toBeCloseTo(39.4, 0);
    expect(messages(plan, "LOOPS_SPLIT")[0]).toContain("No fewer will do, by its area.");
    expect(shortfalls(plan)).toEqual([]);
  });

  it("too long a corridor is cut by its wire", async () => {
    const plan = await planned(lawn(400, 4), "medium");
    // Inside the wire 399.4 m × 3.4 m: 805.6 m of it, 500 m a loop.
    expect(plan.loops).toHaveLength(2);
    expect(messages(plan, "LOOPS_SPLIT")[0]).toContain("No fewer will do, by its rings of wire.");
    expect(shortfalls(plan)).toEqual([]);
  });

  it("stays one loop where dividing is turned off, and a finding says what that breaks", async () => {
    const plan = await planned(lawn(100, 40), "medium", false);
    expect(plan.loops).toHaveLength(1);
    expect(messages(plan, "LOOP_TOO_LARGE")).toHaveLength(1);
    expect(messages(plan, "LOOPS_SPLIT")).toEqual([]);
  });
});

const ESTATES = Array.from({ length: 12 }, (_, i) => i + 1);

describe("invented estates", () => {
  it.each(ESTATES)(
    "%i: loops within their limits, apart, balanced, as few as can be",
    async (seed) => {
      const profile = (["small", "medium", "large"] as const)[seed % 3]!;
      const radiusM = { small: 45, medium: 75, large: 110 }[profile];
      const drawn = estate(seed, { radiusM, islands: 6 + 3 * seed, trees: 20 });
      const plan = await planned(geojsonInput(drawn.features), profile);
      expect(plan.loops.length).toBeGreaterThan(2);
      expect(shortfalls(plan)).toEqual([]);
    },
  );

  it.each([2, 5, 9])("%i: the judge of wires finds nothing", async (seed) => {
    const drawn = estate(seed, { radiusM: 50, islands: 10, trees: 10 });
    const made = await planDrawn(drawn, { profile: "medium" });
    expect(made.summary.loops.length).toBeGreaterThan(1);
    expect(judgeWritten(made, drawn.truth).breaches.slice(0, 5)).toEqual([]);
  });

  it("the order of features and where rings begin do not matter", async () => {
    const { features } = estate(4, { radiusM: 50, islands: 15, trees: 10 });
    const turned = features.map((one) => {
      if (one.geometry.type !== "Polygon") return one;
      const coordinates = one.geometry.coordinates.map((ring) => {
        const third = Math.floor(ring.length / 3);
        return [...ring.slice(third, -1), ...ring.slice(0, third + 1)];
      });
      return { ...one, geometry: { ...one.geometry, coordinates } };
    });
    const there = await planned(geojsonInput(features), "medium");
    const back = await planned(geojsonInput(turned.reverse()), "medium");
    expect(back.loops.map((one) => one.lengthM.toFixed(3))).toEqual(
      there.loops.map((one) => one.lengthM.toFixed(3)),
    );
  });

  it("cuts that nearly coincide with edges leave no hairs", async () => {
    // A cut along the edge of a bed once left a hole without area, which no run can be tied to.
    const swing = 0.6140481539070606;
    const drawn = estate(1002, { radiusM: 32.07876672176644, islands: 61, trees: 10, swing });
    const plan = await planned(geojsonInput(drawn.features), "small");
    expect(plan.loops.length).toBeGreaterThan(2);
    expect(shortfalls(plan)).toEqual([]);
  });
});

describe("real plots", () => {
  const folder = new URL("../fixtures/plots/", import.meta.url);
  const names = readdirSync(folder).filter((name) => name.endsWith(".geojson"));

  it.each(names)("%s", async (name) => {
    const bytes = await readFile(new URL(name, folder));
    expect(shortfalls(await planned({ name, bytes }, "medium"))).toEqual([]);
  });
});

describe("an estate of 770,000 m² with 300 islands and 20,000 vertices", () => {
  it("is divided into the fewest loops in seconds", () => {
    const profile = builtInProfile("medium");
    const random = seeded(99);
    const shell = organicRing(random, [0, 0], 500, 20_000);
    const beds = Array.from({ length: 300 }, (): AreaM => {
      const angle = 2 * Math.PI * random();
      const away = 550 * Math.sqrt(random());
      const at = [away * Math.cos(angle), away * Math.sin(angle)] as const;
      return { shell: organicRing(random, at, 1 + 6 * random(), 30), holes: [] };
    });
    const ground = difference([{ shell, holes: [] }], beds);
    const part = findParts(ground, profile.passage.driveMinM).parts[0]!;
    const split = splitPart(part, [], profile, { loadsWithin: 0.15 })!;
    // By area alone; nothing else is in the way.
    expect(split.pieces).toHaveLength(Math.ceil(areaM2(part) / profile.loop.areaMaxM2));
    const loads = split.pieces.map(areaM2);
    expect(Math.min(...loads) / Math.max(...loads)).toBeGreaterThan(0.95);
    expect(Math.max(...loads)).toBeLessThanOrEqual(profile.loop.areaMaxM2);
  }, 60_000);
});

describe("a division of which one loop is over a limit", () => {
  const profile = builtInProfile("medium");

  /** An organic lawn with 60 beds, cut for 16 loops; the most wire that a loop has, metres. */
  function sketched(seed: number, limitM: number): number {
    const random = seeded(seed);
    const shell = organicRing(random, [0, 0], 90, 1200);
    const beds = Array.from({ length: 60 }, (): AreaM => {
      const angle = 2 * Math.PI * random();
      const away = 85 * Math.sqrt(random());
      const at = [away * Math.cos(angle), away * Math.sin(angle)] as const;
      return { shell: organicRing(random, at, 0.8 + 1.5 * random(), 16), holes: [] };
    });
    const part = findParts(difference([{ shell, holes: [] }], beds), 0.9).parts[0]!;
    const even = { m2PerWireM: 0, linkM: 0 };
    const manner = { loops: 16, evened: even, slack: 0.01, skipped: 0 };
    const over = ({ area }: Region): number => wireNeededM(area) / limitM;
    const whole = regionOf(part, [], even);
    const { regions } = sketch(whole, manner, new Directions(part), profile, over)!;
    expect(regions).toHaveLength(16);
    const areas = regions.map(({ area }) => areaM2(area));
    expect(Math.max(...areas) / Math.min(...areas)).toBeLessThan(1.08);
    return Math.max(...regions.map(({ area }) => wireNeededM(area)));
  }

  it("is mended by other cuts round that loop", () => {
    let mended = 0;
    for (let seed = 1; seed <= 8; seed++) {
      const wireM = sketched(seed, Infinity);
      const afterM = sketched(seed, wireM / 1.03);
      expect(afterM).toBeLessThanOrEqual(wireM);
      if (afterM <= wireM / 1.03) mended++;
    }
    expect(mended).toBeGreaterThanOrEqual(5);
  });
});

describe("chords of an area swept by a line", () => {
  // Reference: JTS, the area cut by half-planes.
  it.each([1, 2, 3, 4, 5, 6])("%i: the area below each is what JTS finds", (seed) => {
    const random = seeded(seed);
    const shell = organicRing(random, [0, 0], 40, 90);
    const holes = Array.from({ length: 6 }, (): AreaM => {
      const at = [50 * (random() - 0.5), 50 * (random() - 0.5)] as const;
      return { shell: organicRing(random, at, 2 + 3 * random(), 20), holes: [] };
    });
    const area = difference([{ shell, holes: [] }], holes)[0]!;
    const sweep = new LineChords(area, [], Math.PI * random());
    expect(sweep.totalM2).toBeCloseTo(areaM2(area), 6);
    let chords = 0;
    for (let share = 0.05; share < 1; share += 0.05) {
      const level = sweep.minM + share * (sweep.maxM - sweep.minM);
      for (const chord of sweep.at(level)) {
        const below = polygonOf(sweep.ringBelow(chord)).intersection(multiPolygonOf([area]));
        expect(chord.belowM2).toBeCloseTo(below.getArea(), 5);
        chords++;
      }
    }
    expect(chords).toBeGreaterThan(18);
  });
});

describe("edges shorter than a limit", () => {
  it("are taken off a chipped corner, which takes area away only", () => {
    const shell = Float64Array.of(0, 0, 10, 0, 10, 9.999, 9.999, 10, 0, 10);
    const clean = withoutShortEdges({ shell, holes: [] }, 0.003);
    expect([...clean.shell]).toEqual([0, 0, 10, 0, 9.999, 10, 0, 10]);
    expect(polygonOf(shell).buffer(1e-9).covers(polygonOf(clean.shell))).toBe(true);
  });

  it("are left at a notch, where taking them off would add area", () => {
    const shell = Float64Array.of(
      0,
      0,
      10,
      0,
      10,
      10,
      5.001,
      10,
      5.001,
      9,
      4.999,
      9,
      4.999,
      10,
      0,
      10,
    );
    expect(withoutShortEdges({ shell, holes: [] }, 0.003).shell).toBe(shell);
  });
});
