import { shownLines } from "../src/escape/hidden.ts";
import { jsonText } from "../src/escape/json.ts";
import { terminalName, terminalSentence } from "../src/escape/terminal.ts";
import { wrapped } from "../src/export/plain-text.ts";
import type { Problem } from "../src/model/finding.ts";
import { EXIT } from "./exit-codes.ts";
import { Refusal } from "./refusal.ts";

/**
 * Says why a command stopped and returns the exit code.
 *
 * With `--json` standard output gets `{ error: { code, message, remedy, file } }`; standard error
 * gets the same in words either way. A fault of ours shows its stack only with `PEGLINE_DEBUG=1`.
 */
export function reportFailure(error: unknown, json: boolean): number {
  const known = error instanceof Refusal;
  const problem = known ? error.problem : faultOf(error);
  if (json) process.stdout.write(`${jsonText({ error: errorJson(problem) }, 2)}\n`);
  process.stderr.write(problemText(problem));
  if (!known && process.env.PEGLINE_DEBUG === "1" && error instanceof Error) {
    process.stderr.write(`${shownLines(error.stack ?? "")}\n`);
  }
  if (!known) return EXIT.fault;
  return problem.kind === "usage" ? EXIT.usage : EXIT.input;
}

function errorJson({ code, message, remedy, file, layer, feature, line, path }: Problem) {
  return {
    code,
    message,
    remedy,
    file: file ?? null,
    ...(layer === undefined ? {} : { layer }),
    ...(feature === undefined ? {} : { feature }),
    ...(line === undefined ? {} : { line }),
    ...(path === undefined ? {} : { path }),
  };
}

function problemText({ code, message, remedy, file, layer, feature, line }: Problem): string {
  const place = file !== undefined && line !== undefined ? `${file}:${line}` : file;
  const where = [place, layer, feature].filter((part) => part !== undefined).map(terminalName);
  const indent = "  ";
  return [
    `pegline: ${code}${where.length > 0 ? ` in ${where.join(", ")}` : ""}`,
    `${indent}${wrapped(terminalSentence(message), indent)}`,
    `${indent}${wrapped(`To do: ${terminalSentence(remedy)}`, indent)}`,
    "",
  ].join("\n");
}

function faultOf(error: unknown): Problem {
  return {
    code: "INTERNAL_FAULT",
    kind: "input",
    message: `A fault of pegline, not of your input: ${error instanceof Error ? error.message : String(error)}`,
    remedy:
      "Run again with PEGLINE_DEBUG=1 and report what it prints, with the input if you can share it.",
  };
}
