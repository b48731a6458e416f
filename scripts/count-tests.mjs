// Prints "PASSED FAILED" from a vitest JSON report. A run that failed without a failed test (a file
// that did not load, no report at all) counts as one failure.
import { readFile } from "node:fs/promises";

const [, , reportPath, exitCode] = process.argv;
let passed = 0;
let failed = 0;
try {
  const report = JSON.parse(await readFile(reportPath, "utf8"));
  passed = report.numPassedTests;
  failed = report.numFailedTests;
} catch {
  // Counted below.
}
if (failed === 0 && exitCode !== "0") failed = 1;
process.stdout.write(`${passed} ${failed}\n`);
