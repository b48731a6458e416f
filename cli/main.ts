/** The command line: arguments in, exit code out. Commands load only when they are called. */
import { isJsonWanted } from "./output-mode.ts";
import { runCli } from "./program.ts";
import { misuse, type Refusal } from "./refusal.ts";
import { reportFailure } from "./report-failure.ts";
import { Stopped } from "./signals.ts";

const json = process.argv.includes("--json");

// A reader that closes the pipe early (`pegline … | head`) is no fault of anyone; a full disk that
// standard output goes to is one that must be told.
process.stdout.on("error", (error: NodeJS.ErrnoException) => {
  if (error.code !== "EPIPE") process.exit(reportFailure(noStandardOutput(error), false));
});
// Where standard error cannot be written there is nobody to tell.
process.stderr.on("error", () => {});

runCli(process.argv.slice(2)).then(
  (code) => {
    process.exitCode = code;
  },
  (error: unknown) => {
    process.exitCode =
      error instanceof Stopped ? error.exitCode : reportFailure(error, json || isJsonWanted());
  },
);

function noStandardOutput({ code }: NodeJS.ErrnoException): Refusal {
  return misuse(
    "STDOUT_NOT_WRITABLE",
    `Standard output cannot be written (${code}): what was printed is not whole.`,
    "Free some room where it goes to, or send it elsewhere.",
  );
}
