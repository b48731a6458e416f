// What a report of mutation testing (mutation-testing-report-schema) comes to.

const z = 1.959964; // of 95 %

/** Mutants of a report with their file; those that were not drawn have the state CompileError. */
function mutantsOf({ files }) {
  return Object.entries(files).flatMap(([file, { source, mutants }]) =>
    mutants.map((mutant) => ({ file, source, ...mutant })),
  );
}

/**
 * @returns counts by state; `score`, the share of those run that tests noticed, percent; `low` and
 *   `high`, its interval of 95 % by Wilson (1927), with the correction for a draw without putting back
 */
export function scoreOf(report) {
  const mutants = mutantsOf(report).filter(({ status }) => status !== "Ignored");
  const counts = { Killed: 0, Timeout: 0, Survived: 0, NoCoverage: 0, RuntimeError: 0 };
  for (const { status } of mutants) if (status in counts) counts[status]++;
  const run = counts.Killed + counts.Timeout + counts.Survived + counts.NoCoverage;
  const share = (counts.Killed + counts.Timeout) / run;
  const all = mutants.length;
  // Of a whole population nothing is left to chance.
  const square = z ** 2 * (all > 1 ? (all - run) / (all - 1) : 0);
  const middle = (share + square / (2 * run)) / (1 + square / run);
  const half =
    Math.sqrt((square * share * (1 - share)) / run + square ** 2 / (4 * run ** 2)) /
    (1 + square / run);
  return {
    counts,
    run,
    all,
    score: 100 * share,
    low: 100 * (middle - half),
    high: 100 * (middle + half),
  };
}

/** One line for each mutant that no test noticed: place, what was there, what stood there instead. */
export function survivorsOf(report) {
  return mutantsOf(report)
    .filter(({ status }) => status === "Survived" || status === "NoCoverage")
    .map(({ file, source, location: { start, end }, mutatorName, replacement, status }) => {
      const lines = source.split("\n").slice(start.line - 1, end.line);
      const last = lines.length - 1;
      lines[last] = lines[last].slice(0, end.column - 1);
      lines[0] = lines[0].slice(start.column - 1);
      const short = (text) => text.replaceAll(/\s+/g, " ").slice(0, 100);
      const what = status === "NoCoverage" ? "no test: " : "";
      return `${file}:${start.line}:${start.column} ${what}${mutatorName}: ${short(lines.join("\n"))} → ${short(replacement ?? "")}`;
    });
}
