/** A short seeded run of the fuzzer; `npm run fuzz` makes long ones, with a watchdog. */
import { describe, expect, it } from "vitest";
import { RASTER_READERS } from "../../src/import/raster/open-raster.ts";
import { READERS } from "../../src/import/read-inputs.ts";
import { BadAnswer, checkFindings, checkOutcome, checkWritable } from "./answers.ts";
import { minimised } from "./minimise.ts";
import { caseOf, readCase } from "./run-case.ts";
import type { Target } from "./target.ts";
import { TARGETS } from "./targets.ts";

const SEED = 20;
/** Cases of all targets together, shared out by weight. */
const CASES = 1500;
const weights = TARGETS.reduce((sum, { weight }) => sum + weight, 0);

describe("mutated files are read or refused with a code", () => {
  it.each(TARGETS.map((target) => [target.id, target] as const))("%s", async (_, target) => {
    const count = Math.ceil((CASES * target.weight) / weights);
    const failures: string[] = [];
    const ends = { refused: 0, read: 0, planned: 0 };
    for (let number = 0; number < count; number++) {
      const result = await readCase(target, caseOf(target, SEED, number));
      if ("failure" in result) failures.push(`#${number}: ${result.failure.what}`);
      else ends[result.reached.end]++;
    }
    expect(failures).toEqual([]);
    // A broken .prj is told, and the inspection goes on. Mutations that all broke the file, or none, would try little.
    if (target.id !== "prj") expect(ends.refused).toBeGreaterThan(0);
    // Of compressed rasters few come through: 5 of 52 with this seed.
    expect(ends.read + ends.planned).toBeGreaterThan(count / 20);
  });

  it("every reader has a target", () => {
    const ids = TARGETS.map(({ id }) => id);
    expect(ids).toEqual(expect.arrayContaining(Object.keys(RASTER_READERS)));
    for (const reader of READERS) {
      const isTried = TARGETS.some((target) =>
        reader.extensions.includes(Object.keys(target.seeds()[0]!)[0]!),
      );
      expect(isTried, reader.id).toBe(true);
    }
  });
});

describe("the fuzzer itself", () => {
  const geojson = TARGETS.find(({ id }) => id === "geojson")!;

  it("makes the same case of the same seed and number, and another of others", () => {
    const [one, again, next, other] = [
      caseOf(geojson, 1, 7),
      caseOf(geojson, 1, 7),
      caseOf(geojson, 1, 8),
      caseOf(geojson, 2, 7),
    ];
    expect(again).toEqual(one);
    expect(next).not.toEqual(one);
    expect(other).not.toEqual(one);
  });

  it("notices what is thrown, and what is said amiss", async () => {
    const bad: Target = {
      ...geojson,
      read: async () => {
        throw new TypeError("x of undefined");
      },
    };
    const result = await readCase(bad, { parts: {}, plan: false });
    expect(result).toMatchObject({ failure: { what: expect.stringContaining("TypeError") } });
    const problem = { code: "A_CODE", kind: "input" as const, message: "m", remedy: "r" };
    const failed = (change: object) => ({
      ok: false as const,
      findings: [],
      problem: { ...problem, ...change },
    });
    expect(checkOutcome(failed({}))).toEqual(["A_CODE"]);
    for (const change of [
      { code: "no code" },
      { message: "" },
      { remedy: " " },
      { message: "it is NaN m long" },
      { message: "x\n    at read (/a/b.ts:1:2)" },
      { message: "[object Object]" },
      { message: "x".repeat(5000) },
      { kind: "fault" },
    ]) {
      expect(() => checkOutcome(failed(change)), JSON.stringify(change)).toThrow(BadAnswer);
    }
    expect(() => checkFindings([{ ...problem, severity: "info", atM: [0, Number.NaN] }])).toThrow(
      BadAnswer,
    );
    expect(() => checkWritable({ a: [1, Infinity] })).toThrow(BadAnswer);
  });

  it("makes a failing file small", async () => {
    const bytes = new Uint8Array(300).fill(32);
    bytes[123] = 1;
    bytes[222] = 2;
    const { ".a": small } = await minimised({ ".a": bytes, ".b": bytes }, async (parts) => {
      const held = parts[".a"]!;
      return held.includes(1) && held.includes(2);
    });
    expect([...small!]).toEqual([1, 2]);
  });
});
