import { shownLines } from "../src/escape/hidden.ts";
import { jsonText } from "../src/escape/json.ts";
import { terminalName, terminalSentence } from "../src/escape/terminal.ts";
import { wrapped } from "../src/export/plain-text.ts";
import type { Problem } from "../src/model/finding.ts";
import { EXIT } from "./exit-codes.ts";
import { problemOf } from "./problem-of.ts";

/**
 * Says why a command stopped and returns the exit code.
 *
 * With `--json` standard output gets `{ error: { code, message, remedy, file } }`; standard error
 * gets the same in words either way. A fault of ours shows its stack only with `PEGLINE_DEBUG=1`.
 */
export function reportFailure(error: unknown, json: boolean): number {
  const { problem, isFault } = problemOf(error);
  if (json) process.stdout.write(`${jsonText({ error: errorJson(problem) }, 2)}\n`);
  process.stderr.write(problemText(problem));
  if (isFault && process.env.PEGLINE_DEBUG === "1" && error instanceof Error) {
    process.stderr.write(`${shownLines(error.stack ?? "")}\n`);
  }
  if (isFault) return EXIT.fault;
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
