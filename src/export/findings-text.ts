import { terminalName, terminalSentence } from "../escape/terminal.ts";
import type { Severity } from "../model/finding.ts";
import type { WrittenFinding } from "./ordered-findings.ts";
import { wrapped } from "./plain-text.ts";

/** At most this many of one code are shown to people; data files have them all. */
const SHOWN_OF_ONE_CODE = 4;

const TITLES: Readonly<Record<Severity, string>> = {
  error: "error  ",
  warning: "warning",
  info: "note   ",
};

/** Findings as plain text for people, each with its place and remedy; long runs are cut short. */
export function findingsText(findings: readonly WrittenFinding[]): string {
  const counts = new Map<string, number>();
  const blocks: string[] = [];
  for (const finding of findings) {
    const count = (counts.get(finding.code) ?? 0) + 1;
    counts.set(finding.code, count);
    if (count <= SHOWN_OF_ONE_CODE) blocks.push(block(finding));
  }
  for (const [code, count] of counts) {
    const more = count - SHOWN_OF_ONE_CODE;
    if (more > 0) blocks.push(`  and ${more} more ${code}, all in the results as data`);
  }
  return blocks.length === 0 ? "" : `${blocks.join("\n")}\n`;
}

function block(finding: WrittenFinding): string {
  const indent = " ".repeat(10);
  const message = `${terminalSentence(finding.message)}${whereText(finding)}`;
  return [
    `  ${TITLES[finding.severity]} ${finding.code}`,
    `${indent}${wrapped(message, indent)}`,
    `${indent}${wrapped(`To do: ${terminalSentence(finding.remedy)}`, indent)}`,
  ].join("\n");
}

function whereText({ file, layer, feature, at, east_m, north_m }: WrittenFinding): string {
  const parts = [file, layer, feature].filter((part): part is string => part !== null);
  if (at) parts.push(`at ${at[0].toFixed(7)}, ${at[1].toFixed(7)}`);
  if (east_m !== null && north_m !== null) {
    parts.push(`${east_m.toFixed(2)} m east, ${north_m.toFixed(2)} m north`);
  }
  return parts.length === 0 ? "" : ` (${parts.map(terminalName).join("; ")})`;
}
