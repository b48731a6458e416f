/** What `npm run mutate` makes of a report: score, interval, the draw. */
import { describe, expect, it } from "vitest";

const { scoreOf, survivorsOf } = await import("../../scripts/mutation/score.mjs" as string);
const { lotOf } = await import("../../scripts/mutation/sampling.mjs" as string);

const source = "const a = b < c;\nconst text =\n  'x';\n";
const at = (status: string, place = [1, 11, 1, 16]) => ({
  id: "0",
  mutatorName: "EqualityOperator",
  replacement: "b <= c",
  status,
  location: {
    start: { line: place[0], column: place[1] },
    end: { line: place[2], column: place[3] },
  },
});
const report = (states: Record<string, number>) => ({
  files: {
    "src/check/a.ts": {
      source,
      mutants: Object.entries(states).flatMap(([status, n]) =>
        Array.from({ length: n }, () => at(status)),
      ),
    },
  },
});

describe("score", () => {
  it("counts what tests noticed of what was run, no test among it", () => {
    const found = scoreOf(
      report({ Killed: 6, Timeout: 2, Survived: 1, NoCoverage: 1, Ignored: 5 }),
    );
    expect(found).toMatchObject({ run: 10, all: 10, score: 80 });
    // Of the whole population nothing is left to chance.
    expect([found.low, found.high]).toEqual([80, 80]);
  });

  it("has the interval of Wilson (1927) where little of much was drawn", () => {
    // 8 of 10: 49.0 to 94.3 %, as tables of the score interval have it (from memory).
    const found = scoreOf(report({ Killed: 8, Survived: 2, CompileError: 1_000_000 / 10 }));
    expect(found.run).toBe(10);
    expect(found.low).toBeCloseTo(49.0, 1);
    expect(found.high).toBeCloseTo(94.3, 1);
  });
});

it("survivors are told by place, with what stood there instead", () => {
  const lines = survivorsOf(report({ Killed: 3, Survived: 1, NoCoverage: 1 }));
  expect(lines).toEqual([
    "src/check/a.ts:1:11 EqualityOperator: b < c → b <= c",
    "src/check/a.ts:1:11 no test: EqualityOperator: b < c → b <= c",
  ]);
});

it("the draw goes by seed and mutant, not by where the files lie", () => {
  const mutant = { ...at("Pending"), fileName: "/one/src/check/a.ts" };
  expect(lotOf(mutant, 1)).toBe(lotOf({ ...mutant, fileName: "C:\\two\\src\\check\\a.ts" }, 1));
  expect(lotOf(mutant, 1)).not.toBe(lotOf(mutant, 2));
  expect(lotOf(mutant, 1)).not.toBe(lotOf({ ...mutant, replacement: "b > c" }, 1));
});
