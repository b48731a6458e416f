import { describe, expect, it } from "vitest";
import { findingsText } from "../../src/export/findings-text.ts";
import { writtenFinding } from "../../src/export/ordered-findings.ts";
import { table, wrapped } from "../../src/export/plain-text.ts";
import { summaryOf } from "../../src/export/summary.ts";
import { summaryText } from "../../src/export/summary-text.ts";
import { cautionsFor } from "../../src/handover/cautions.ts";
import { quantitiesOf } from "../../src/handover/quantities.ts";
import { samplePlan, sampleSite } from "./sample-plan.ts";

describe("text for people", () => {
  it("wraps at a width and loses no word", () => {
    const text = wrapped("one two three four five six", "  ", 12);
    expect(text.split(/\s+/)).toEqual(["one", "two", "three", "four", "five", "six"]);
    expect(Math.max(...text.split("\n").map((line) => line.length))).toBeLessThanOrEqual(12);
  });

  it("lines columns up", () => {
    expect(
      table([
        ["a", "1"],
        ["bb", "22"],
      ]),
    ).toEqual(["a    1", "bb  22"]);
  });

  it("says what to lay, to buy and to mind, without escape codes", () => {
    const plan = samplePlan();
    const quantities = quantitiesOf(plan);
    const site = sampleSite();
    const cautions = cautionsFor(site, plan, quantities);
    const result = { site, plan, quantities, cautions, schedule: [], findings: [] };
    const text = summaryText(summaryOf(result));
    expect(text).toContain("34.6 m, of which 32.0 m is laid");
    expect(text).toContain("1 of 200 m");
    expect(text).toContain("Widen it by 0.10 m to drive through.");
    expect(text).toContain("Left as it is, 12.0 m² are cut off from the machine.");
    expect(text).toContain(
      "1.40 m  0.80 m  1.0 m long  bearing 90°  shut; 12.0 m² with 1 island beyond",
    );
    expect(text).toMatch(/before\s+you\s+cut\s+wire/);
    // biome-ignore lint/suspicious/noControlCharactersInRegex: that is what is looked for
    expect(text).not.toMatch(/[\u0000-\u0009\u001b]/);
  });

  it("shows a few of many like findings and counts the rest", () => {
    const many = Array.from({ length: 40 }, (_, i) =>
      writtenFinding({
        code: "POINT_REPEATED",
        severity: "info",
        message: `point ${i}`,
        remedy: "none",
        file: "a.kml",
      }),
    );
    const text = findingsText(many);
    expect(text.match(/To do: none/g)).toHaveLength(4);
    expect(text).toContain("and 36 more POINT_REPEATED");
    expect(text).toContain("(a.kml)");
    expect(findingsText([])).toBe("");
  });
});
