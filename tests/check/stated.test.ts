/** Plans from elsewhere, and plans that say what cannot be read. */
import { readFileSync } from "node:fs";
import type { FeatureCollection } from "geojson";
import { describe, expect, it } from "vitest";
import { epsgRegistry } from "../../cli/epsg-registry.ts";
import { checkInputs } from "../../src/jobs/pegline.ts";

const CORPUS = "tests/fuzz/corpus";
const site = [
  { name: "lawn.geojson", bytes: new Uint8Array(readFileSync(`${CORPUS}/lawn.geojson`)) },
];
const ours = () => JSON.parse(readFileSync(`${CORPUS}/plan.geojson`, "utf8")) as FeatureCollection;

async function judged(change: (plan: FeatureCollection) => void) {
  const plan = ours();
  change(plan);
  const bytes = new TextEncoder().encode(JSON.stringify(plan));
  const outcome = await checkInputs({ name: "plan.geojson", bytes }, site, {
    registry: epsgRegistry,
  });
  const codes = outcome.findings.map(({ code }) => code);
  return outcome.ok
    ? { verdict: outcome.value.verdict, codes, findings: outcome.value.findings }
    : { problem: outcome.problem, codes };
}

const featureOf = (plan: FeatureCollection, kind: string) =>
  plan.features.find((one) => one.properties?.kind === kind)!;

describe("a plan that is given to be checked", () => {
  it("holds as it was written", async () => {
    expect(await judged(() => undefined)).toMatchObject({ verdict: "holds" });
  });

  it.each([
    ["one vertex of the wire a degree off", "boundary-wire", [-27.5, 47.25], "76 km"],
    ["a peg a tenth of a degree off", "peg", [-28.5, 47.35], "11 km"],
    ["a station beyond the equator", "station", [-28.5, -47.25], "10470 km"],
  ] as const)("is refused with %s", async (_, kind, at, far) => {
    // On WGS 84 a degree of longitude at 47.25° is 75.7 km, a tenth of latitude 11.1 km, and the
    // meridian from 47.25° S to N 10,470 km (its arc by the series 111132.95 φ − 16038.5 sin 2φ + …).
    const { problem } = await judged((plan) => {
      const { geometry } = featureOf(plan, kind);
      if (geometry.type === "Point") geometry.coordinates = [...at];
      if (geometry.type === "LineString") geometry.coordinates[2] = [...at];
    });
    expect(problem).toMatchObject({ code: "PLAN_ELSEWHERE", file: "plan.geojson" });
    expect(problem?.message).toContain(far);
  });

  it("is refused where its lines are beyond all length", async () => {
    const { problem } = await judged((plan) => {
      const { geometry } = featureOf(plan, "boundary-wire");
      if (geometry.type !== "LineString") return;
      // 8 km there and back, a hundred times.
      for (let i = 0; i < 100; i++) geometry.coordinates.push([-28.5, 47.25], [-28.5, 47.322]);
    });
    expect(problem).toMatchObject({ code: "PLAN_TOO_LONG" });
  });

  it("says which of its values cannot be read, and measures the rest", async () => {
    const { findings = [] } = await judged((plan) => {
      for (const one of plan.features) {
        if (one.properties?.kind === "peg") one.properties.chainage_m = "far";
        if (one.properties?.kind === "boundary-wire") one.properties.length_m = [1];
        if (one.properties?.kind === "station") one.properties.bearing_deg = "1e999";
      }
    });
    const unread = findings.filter(({ code }) => code === "PLAN_VALUE_UNREADABLE");
    expect(unread.map(({ message }) => message.slice(0, 34))).toEqual([
      "length_m of boundary-wire is [1]: ",
      'chainage_m of peg is "far" and the',
      'bearing_deg of station is "1e999":',
    ]);
    expect(unread[1]?.message).toContain("64 times");
    expect(unread.every(({ severity }) => severity === "error")).toBe(true);
  });

  it("reads numbers that a format has as text, and cuts names that are too long", async () => {
    const { verdict, findings = [] } = await judged((plan) => {
      for (const one of plan.features) {
        const properties = one.properties!;
        if (typeof properties.length_m === "number") properties.length_m = `${properties.length_m}`;
        if (properties.loop === "A") properties.loop = "x".repeat(9000);
      }
    });
    // Pegs are numbered by the name of the loop, which is another one now.
    expect(verdict).toBe("broken");
    expect(findings.map(({ code }) => code)).toContain("PEG_NUMBER_WRONG");
    expect(Math.max(...findings.map(({ message }) => message.length))).toBeLessThan(500);
  });
});
