/** Rules that every answer of the program keeps, whatever it was given. */
import type { Finding, Outcome, Problem } from "../../src/model/finding.ts";

/** The program answered, but not as it should. */
export class BadAnswer extends Error {
  override name = "BadAnswer";
}

/** No text for people is longer, however long the names in the input are. */
const TEXT_MAX = 4000;

const CODE = /^[A-Z][A-Z0-9]*(_[A-Z0-9]+)*$/;
/** A value that was put into a sentence unseen. */
const SPILLED = /\[object \w+\]|\b(NaN|undefined|Infinity) (m|m²|%|mm|km|vertices)\b/;
const QUOTED = /"(?:[^"\\]|\\.)*"/g;

function checkText(what: string, text: unknown, code: string): void {
  if (typeof text !== "string" || text.trim() === "") throw new BadAnswer(`${code} has no ${what}`);
  if (text.length > TEXT_MAX)
    throw new BadAnswer(`${code}: its ${what} is ${text.length} letters long`);
  // What is quoted from an input may say anything.
  const spilled = /\n\s+at .+:\d+:\d+/.exec(text) ?? SPILLED.exec(text.replace(QUOTED, '""'));
  if (spilled) throw new BadAnswer(`${code}: its ${what} says ${JSON.stringify(spilled[0])}`);
}

function checkSaid(said: Finding | Problem): void {
  if (!CODE.test(said.code)) throw new BadAnswer(`${JSON.stringify(said.code)} is no code`);
  checkText("message", said.message, said.code);
  checkText("remedy", said.remedy, said.code);
}

export function checkFindings(findings: readonly Finding[]): string[] {
  for (const finding of findings) {
    checkSaid(finding);
    if (!["info", "warning", "error"].includes(finding.severity))
      throw new BadAnswer(`${finding.code} is of severity ${finding.severity}`);
    const numbers = [...(finding.atM ?? []), ...(finding.at ?? [])];
    if (!numbers.every(Number.isFinite))
      throw new BadAnswer(`${finding.code} lies at ${numbers.join(", ")}`);
  }
  return findings.map(({ code }) => code);
}

/** Codes of a result; its value must have been checked by whoever knows what it is. */
export function checkOutcome(outcome: Outcome<unknown>): string[] {
  const codes = checkFindings(outcome.findings);
  if (outcome.ok) return codes;
  const { problem } = outcome;
  checkSaid(problem);
  if (problem.kind !== "input" && problem.kind !== "usage")
    throw new BadAnswer(`${problem.code} is of kind ${String(problem.kind)}`);
  return [...codes, problem.code];
}

/** Throws where a value that is to be written as JSON holds what JSON cannot say. */
export function checkWritable(value: unknown): void {
  const text = JSON.stringify(value, (key, inner) => {
    if (typeof inner === "number" && !Number.isFinite(inner))
      throw new BadAnswer(`${key} is ${inner}`);
    return inner;
  });
  JSON.parse(text);
}
