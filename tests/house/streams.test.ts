import { expect, it } from "vitest";
import { codeOf, sourceFiles } from "./source-files.ts";

/** Modules that may write to standard output and standard error: each escapes what it is given. */
const DOORS = ["cli/main.ts", "cli/report-failure.ts", "cli/terminal.ts"];

const STREAM = /\bprocess\s*\.\s*std(?:out|err)\b|\bconsole\s*\./;

it("text reaches the screen by doors that escape it", async () => {
  expect(STREAM.test("process.stdout.write(name)")).toBe(true);
  const files = await sourceFiles("cli");
  const wrong = files.filter((file) => STREAM.test(codeOf(file.text)));
  expect(wrong.map((file) => file.path)).toEqual(DOORS);
});
