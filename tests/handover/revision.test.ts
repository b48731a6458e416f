/** A changed site with wire in the ground: what stays, what is lifted, what is laid anew. */
import { readFile } from "node:fs/promises";
import type { Feature, Point, Polygon } from "geojson";
import { describe, expect, it } from "vitest";
import { epsgRegistry } from "../../cli/epsg-registry.ts";
import { checkPlan } from "../../src/check/check-plan.ts";
import { statedOfPlan } from "../../src/check/stated/from-plan.ts";
import { handOverFiles } from "../../src/export/hand-over/hand-over-files.ts";
import { planFiles } from "../../src/export/plan-files.ts";
import { planInputs } from "../../src/jobs/pegline.ts";
import { type Revised, reviseInputs } from "../../src/jobs/revise.ts";
import type { InputFile } from "../../src/model/features.ts";
import { estate } from "../support/estates.ts";
import { geojsonInput } from "../support/planning.ts";

async function laid(inputs: readonly InputFile[]): Promise<InputFile> {
  const made = await planInputs(inputs, { registry: epsgRegistry });
  if (!made.ok) throw new Error(made.problem.message);
  const { text } = planFiles(made.value).files.find((one) => one.name === "plan.geojson")!;
  return { name: "plan.geojson", bytes: new TextEncoder().encode(text) };
}

function written({ result }: Revised): InputFile {
  const { text } = planFiles(result).files.find((one) => one.name === "plan.geojson")!;
  return { name: "plan.geojson", bytes: new TextEncoder().encode(text) };
}

function pegsOf({ bytes }: InputFile) {
  const { features } = JSON.parse(new TextDecoder().decode(bytes)) as {
    features: Feature<Point>[];
  };
  return features
    .filter(({ properties }) => properties!.kind === "peg")
    .map(({ geometry, properties }) => ({
      at: geometry.coordinates,
      number: String(properties!.number),
      joint: properties!.joint as string | undefined,
    }));
}

async function revised(old: InputFile, inputs: readonly InputFile[]): Promise<Revised> {
  const made = await reviseInputs(old, inputs, { registry: epsgRegistry });
  if (!made.ok) throw new Error(made.problem.message);
  return made.value;
}

async function anew(inputs: readonly InputFile[]): Promise<number> {
  const made = await planInputs(inputs, { registry: epsgRegistry });
  if (!made.ok) throw new Error(made.problem.message);
  return made.value.plan.loops.reduce((sum, loop) => sum + loop.lengthM, 0);
}

const square = (lon: number, lat: number, halfM: number, name: string): Feature => {
  const [e, n] = [halfM / 75_000, halfM / 111_200];
  const coordinates = [
    [
      [lon - e, lat - n],
      [lon + e, lat - n],
      [lon + e, lat + n],
      [lon - e, lat + n],
      [lon - e, lat - n],
    ],
  ];
  return {
    type: "Feature",
    properties: { role: "bed", name },
    geometry: { type: "Polygon", coordinates },
  };
};

function adds({ revision, result }: Revised, oldM: number): void {
  const { totals, wires, pegs } = revision;
  const newM = result.plan.loops.reduce((sum, loop) => sum + loop.lengthM, 0);
  // Every metre of the new wire stays or is new, every metre of the old one stays or is lifted.
  // A peg that counts as being on the wire may lie 2 cm beside it: that bends the sums a little.
  expect(Math.abs(totals.keptM + totals.newM - newM)).toBeLessThan(0.2);
  expect(Math.abs(totals.keptM + totals.liftedM - oldM)).toBeLessThan(0.2);
  const count = result.plan.loops.reduce((sum, loop) => sum + loop.pegs.length, 0);
  expect(totals.pegsKept + totals.pegsNew).toBe(count);
  expect(pegs.filter((one) => one.does === "stays").every((one) => one.was)).toBe(true);
  expect(wires.every((one) => one.lengthM > 0)).toBe(true);
}

describe("a site that has not changed", () => {
  it("keeps all its wire and pegs", async () => {
    const demo = new URL("../../fixtures/demo/house-garden.geojson", import.meta.url);
    const inputs = [{ name: "house-garden.geojson", bytes: await readFile(demo) }];
    const found = await revised(await laid(inputs), inputs);
    expect(found.revision.totals).toMatchObject({ pegsNew: 0, pegsLifted: 0, couplers: 0 });
    expect(found.revision.totals.newM).toBeLessThan(0.01);
    expect(found.findings.map((one) => one.code)).toContain("REVISION_NONE");
  });
});

describe("an estate with a new bed", () => {
  it.each([1, 2, 4, 6])(
    "%i, across its edge: little is lifted, the rules hold, less is laid than when planned anew",
    async (seed) => {
      const features = estate(seed, { radiusM: 22, islands: 5, trees: 3 }).features as Feature[];
      const lawn = features.find((one) => one.properties!.role === "lawn")!;
      const ring = (lawn.geometry as Polygon).coordinates[0]!;
      const [lon, lat] = ring[Math.floor(ring.length / 3)] as [number, number];
      const before = [geojsonInput(features)];
      const after = [geojsonInput([...features, square(lon, lat, 2, "Edge bed")])];
      const oldM = await anew(before);
      const found = await revised(await laid(before), after);
      adds(found, oldM);
      expect(found.result.check?.verdict).toBe("holds");
      // A bed of 4 m by 4 m on the edge; an edge planned anew moves up to two thirds of the pegs.
      expect(found.revision.totals.liftedM).toBeLessThan(0.12 * oldM);
      const { pegsKept, pegsLifted } = found.revision.totals;
      expect(pegsKept).toBeGreaterThan(0.9 * (pegsKept + pegsLifted));
      expect(found.result.plan.loops[0]!.station.given).toBe(true);
    },
  );

  it("keeps the numbers of pegs that stay, gives new ones to new pegs, and none twice", async () => {
    const features = estate(2, { radiusM: 22, islands: 5, trees: 3 }).features as Feature[];
    const lawn = features.find((one) => one.properties!.role === "lawn")!;
    const ring = (lawn.geometry as Polygon).coordinates[0]!;
    const bedAt = (share: number, name: string): Feature => {
      const [lon, lat] = ring[Math.floor(share * ring.length)] as [number, number];
      return square(lon, lat, 2, name);
    };
    const first = await laid([geojsonInput(features)]);
    const one = [...features, bedAt(1 / 3, "First bed")];
    const second = await revised(first, [geojsonInput(one)]);
    const third = await revised(written(second), [
      geojsonInput([...one, bedAt(2 / 3, "Second bed")]),
    ]);
    const were = new Map<string, string>();
    const place = ([lon, lat]: readonly number[]) => `${lon!.toFixed(7)} ${lat!.toFixed(7)}`;
    const plans = [first, written(second), written(third)].map(pegsOf);
    for (const pegs of plans) {
      expect(new Set(pegs.map(({ number }) => number)).size).toBe(pegs.length);
      for (const { number, at } of pegs) {
        // A number stands where it stood at first, for good.
        expect(were.get(number) ?? place(at), number).toBe(place(at));
        were.set(number, place(at));
      }
    }
    for (const { revision, result } of [second, third]) {
      const stays = revision.pegs.filter((peg) => peg.does === "stays");
      expect(stays.every((peg) => peg.number === peg.was)).toBe(true);
      expect(result.check?.verdict).toBe("holds");
    }
    const [now] = third.result.plan.loops;
    expect(now!.numberedTo).toBeGreaterThan(now!.pegs.length);
    // The guide names what does not follow each other one by one.
    const guide = (await handOverFiles(third.result)).files[0]!;
    expect(guide.name).toBe("guide.txt");
    expect("text" in guide ? guide.text.replace(/\s+/g, " ") : "").toContain("keep their numbers");
    const fresh = third.revision.pegs.filter((peg) => peg.does === "new");
    expect(guide.name && "text" in guide ? guide.text : "").toContain(fresh[0]!.number);
    // A number that stands twice is a breach, where numbers were kept, too.
    const stated = statedOfPlan(third.result.plan);
    const [loop] = stated.loops;
    const twice = loop!.pegs!.map((peg, i) =>
      i === 5 ? { ...peg, number: loop!.pegs![9]!.number } : peg,
    );
    const { site, plan } = third.result;
    const judged = checkPlan(site, plan.profile, { ...stated, loops: [{ ...loop!, pegs: twice }] });
    const rule = judged.measures.find((measure) => measure.rule === "peg-numbers")!;
    expect([rule.measured, rule.holds]).toEqual([1, false]);
  });

  it("states the joints in the ground: those that stay, and the couplers", async () => {
    const features = estate(1, { radiusM: 22, islands: 5, trees: 3 }).features as Feature[];
    const lawn = features.find((one) => one.properties!.role === "lawn")!;
    const [lon, lat] = (lawn.geometry as Polygon).coordinates[0]![4] as [number, number];
    const old = await laid([geojsonInput(features)]);
    const found = await revised(old, [geojsonInput([...features, square(lon, lat, 2, "Bed")])]);
    const joints = pegsOf(written(found)).filter((peg) => peg.joint !== undefined);
    const { couplers } = found.revision.totals;
    expect(couplers).toBeGreaterThan(0);
    const kept = pegsOf(old).filter(
      (peg) => peg.joint !== undefined && joints.some(({ joint }) => joint === peg.joint),
    );
    const numbers = joints.flatMap(({ joint }) => joint!.split(", "));
    expect(new Set(numbers).size).toBe(numbers.length);
    expect(numbers.length).toBe(couplers + kept.length);
  });

  it("refuses a plan without pegs", async () => {
    const features = estate(1, { radiusM: 15, islands: 1, trees: 0 }).features as Feature[];
    const inputs = [geojsonInput(features)];
    const plan = JSON.parse(new TextDecoder().decode((await laid(inputs)).bytes));
    plan.features = plan.features.filter(
      (one: Feature) => one.properties!.kind === "boundary-wire",
    );
    const bare = { name: "bare.geojson", bytes: new TextEncoder().encode(JSON.stringify(plan)) };
    const made = await reviseInputs(bare, inputs, { registry: epsgRegistry });
    expect(made.ok ? "" : made.problem.code).toBe("PLAN_WITHOUT_PEGS");
  });
});
