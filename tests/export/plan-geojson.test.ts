import type { FeatureCollection, LineString, Polygon } from "geojson";
import { beforeAll, describe, expect, it } from "vitest";
import { planFiles } from "../../src/export/plan-files.ts";
import { loadEngine } from "../../src/geometry/engine.ts";
import { cautionsFor } from "../../src/handover/cautions.ts";
import { quantitiesOf } from "../../src/handover/quantities.ts";
import type { Finding } from "../../src/model/finding.ts";
import { samplePlan, sampleSite } from "./sample-plan.ts";

beforeAll(() => loadEngine());

const FINDINGS: Finding[] = [
  { code: "NOTE_HERE", severity: "info", message: "m", remedy: "r", atM: [1, 2] },
  { code: "BAD_THERE", severity: "error", message: "m", remedy: "r", file: "a.geojson" },
];

function files() {
  const plan = samplePlan();
  const quantities = quantitiesOf(plan);
  const cautions = cautionsFor(sampleSite(), plan, quantities);
  return planFiles({
    site: sampleSite(),
    plan,
    quantities,
    cautions,
    schedule: [],
    findings: FINDINGS,
  });
}

const collection = () => JSON.parse(files().files[0]!.text) as FeatureCollection;
const ofKind = (kind: string) =>
  collection().features.filter((one) => one.properties?.kind === kind);

function signedArea(ring: readonly (readonly number[])[]): number {
  let twice = 0;
  for (let i = 0; i + 1 < ring.length; i++) {
    twice += ring[i]![0]! * ring[i + 1]![1]! - ring[i + 1]![0]! * ring[i]![1]!;
  }
  return twice / 2;
}

describe("plan.geojson", () => {
  it("has every kind with the properties of the contract", () => {
    const properties = (kind: string) => ofKind(kind)[0]?.properties;
    expect(properties("boundary-wire")).toEqual({
      kind: "boundary-wire",
      loop: "A",
      length_m: 32,
      direction: "anticlockwise",
    });
    expect(properties("exclusion-loop")).toMatchObject({
      name: "Pond",
      role: "water",
      length_m: 8,
    });
    expect(properties("paired-run")).toMatchObject({ from: "boundary", to: "Pond", length_m: 2 });
    expect(ofKind("peg").map((one) => one.properties?.on)).toEqual(["station", "bend", "pair"]);
    expect(ofKind("peg")[2]?.properties).toMatchObject({ chainage_m: 12, second_chainage_m: 20 });
    expect(properties("station")).toMatchObject({ bearing_deg: 90, given: false });
    expect(properties("passage")).toMatchObject({
      number: 1,
      width_m: 1.4,
      wire_width_m: 0.8,
      length_m: 1,
      verdict: "shut",
      beyond_m2: 12,
      bearing_deg: 90,
      islands_beyond: ["Bed"],
      openings: [{ means: "widen", amount_m: 0.1, gives: "drive" }],
      cost: { comes_to: "cut-off", area_m2: 12 },
    });
    expect(properties("mown-area")).toMatchObject({ loop: "A", part: 1, area_m2: 56 });
    expect(properties("cut-off-area")).toMatchObject({ area_m2: 6, reason: "shut" });
    expect(properties("hand-trim")).toMatchObject({ area_m2: 5 });
  });

  // RFC 7946 §3.1.6: linear rings follow the right-hand rule.
  it("winds exteriors anticlockwise and holes clockwise", () => {
    const [shell, hole] = (ofKind("mown-area")[0]!.geometry as Polygon).coordinates;
    expect(signedArea(shell!)).toBeGreaterThan(0);
    expect(signedArea(hole!)).toBeLessThan(0);
  });

  it("closes the wire and begins it at the station", () => {
    const wire = ofKind("boundary-wire")[0]!.geometry as LineString;
    expect(wire.coordinates).toHaveLength(5);
    expect(wire.coordinates[0]).toEqual(wire.coordinates[4]);
    expect(ofKind("station")[0]!.geometry).toMatchObject({ coordinates: wire.coordinates[0] });
  });

  it("writes at most 9 decimals of a degree", () => {
    const numbers = JSON.stringify(collection().features.map((one) => one.geometry)).match(
      /-?\d+\.\d+/g,
    );
    expect(Math.max(...numbers!.map((one) => one.split(".")[1]!.length))).toBe(9);
  });

  it("puts errors first, a place in degrees and metres where it is known, null where not", () => {
    const [bad, note] = ofKind("finding");
    expect(bad).toMatchObject({ geometry: null, properties: { code: "BAD_THERE", east_m: null } });
    expect(note?.properties).toMatchObject({ code: "NOTE_HERE", east_m: 1, north_m: 2 });
    expect(note?.geometry?.type).toBe("Point");
  });

  it("is the same to the byte for the same plan", () => {
    expect(files().files).toEqual(files().files);
  });
});

describe("summary.json", () => {
  it("has the keys of the contract in order, and the same figures as the drawing", () => {
    const { summary } = files();
    const keys = Object.keys(summary);
    for (const key of ["tool", "version", "site", "profile", "loops", "totals", "passages"])
      expect(keys).toContain(key);
    expect(summary.tool).toBe("pegline");
    expect(summary.profile).toBe("medium");
    expect(summary.loops[0]).toMatchObject({
      loop: "A",
      length_m: 32,
      pegs: 3,
      paired_run_m: 2,
      exclusion_loops: 1,
      resistance_ohm: 0.624,
    });
    expect(summary.totals).toMatchObject({
      wire_m: 32,
      wire_to_buy_m: 34.64,
      pegs: 3,
      reels: 1,
      joints: 0,
      mown_m2: 56,
      hand_trim_m2: 5,
      cut_off_m2: 6,
    });
    expect(summary.findings.map((one) => one.code)).toEqual(["BAD_THERE", "NOTE_HERE"]);
  });
});
