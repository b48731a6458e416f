import type { Problem } from "../src/model/finding.ts";
import { Refusal } from "./refusal.ts";

/** What stopped a command, in words for people, and whether it is a fault of ours. */
export function problemOf(error: unknown): {
  readonly problem: Problem;
  readonly isFault: boolean;
} {
  if (error instanceof Refusal) return { problem: error.problem, isFault: false };
  const problem: Problem = {
    code: "INTERNAL_FAULT",
    kind: "input",
    message: `A fault of pegline, not of your input: ${error instanceof Error ? error.message : String(error)}`,
    remedy:
      "Run again with PEGLINE_DEBUG=1 and report what it prints, with the input if you can share it.",
  };
  return { problem, isFault: true };
}
