import { type Breach, measured, notMeasured } from "../measure.ts";
import type { Rule } from "../rule.ts";

/** Widths are written to 0.1 mm; nearer to a limit than this either verdict will do, metres. */
const LIMIT_SLACK_M = 0.001;

/** What a plan calls its passages follows from the width between the wires that it states. */
export const verdicts: Rule = {
  id: "verdicts",
  code: "PASSAGE_VERDICT_WRONG",
  title: "passages whose verdict does not follow from their stated width",
  measure({ plan, profile }) {
    if (!plan.passages) return notMeasured("count", "at most", "the plan states no passages");
    const { driveMinM, mowMinM } = profile.passage;
    const verdictAt = (m: number): string =>
      m < driveMinM ? "shut" : m < mowMinM ? "drive" : "mow";
    const breaches: Breach[] = [];
    for (const { number, centreLine, widthM, wireWidthM, verdict } of plan.passages) {
      const atM = [centreLine[0]!, centreLine[1]!] as const;
      if (wireWidthM !== undefined && verdict !== undefined) {
        const may = [wireWidthM - LIMIT_SLACK_M, wireWidthM + LIMIT_SLACK_M].map(verdictAt);
        if (!may.includes(verdict)) {
          breaches.push({
            message: `Passage ${number} is called ${verdict}; with ${wireWidthM.toFixed(2)} m between the wires it is ${verdictAt(wireWidthM)}.`,
            remedy: "Correct its verdict, or measure it again.",
            atM,
          });
        }
      }
      if (widthM !== undefined && wireWidthM !== undefined && wireWidthM > widthM + LIMIT_SLACK_M) {
        breaches.push({
          message: `Passage ${number} is stated ${wireWidthM.toFixed(2)} m wide between the wires and ${widthM.toFixed(2)} m from edge to edge: wires lie inside the edges.`,
          remedy: "Measure it again.",
          atM,
        });
      }
    }
    return measured("count", "at most", breaches.length, 0, breaches);
  },
};
