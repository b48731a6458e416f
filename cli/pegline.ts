#!/usr/bin/env node
/** The command line: arguments in, exit code out. Commands load only when they are called. */
import { EXIT } from "./exit-codes.ts";
import { isJsonWanted } from "./output-mode.ts";
import { runCli } from "./program.ts";
import { reportFailure } from "./report-failure.ts";

const json = process.argv.includes("--json");

// A reader that closes the pipe early (`pegline … | head`) is no fault of anyone.
process.stdout.on("error", (error: NodeJS.ErrnoException) => {
  process.exit(error.code === "EPIPE" ? EXIT.fine : EXIT.fault);
});

runCli(process.argv.slice(2)).then(
  (code) => {
    process.exitCode = code;
  },
  (error: unknown) => {
    process.exitCode = reportFailure(error, json || isJsonWanted());
  },
);
