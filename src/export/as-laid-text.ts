import { terminalName } from "../escape/terminal.ts";
import type { AsLaidToWrite } from "./as-laid-result.ts";
import { asLaidResult } from "./as-laid-result.ts";
import { table } from "./plain-text.ts";

/** The comparison for people. */
export function asLaidText(made: AsLaidToWrite): string {
  const { loops, stretches, verdict } = asLaidResult(made);
  const cm = (m: number): string => `${(100 * m).toFixed(1)} cm`;
  const byLoop = table(
    [
      ["loop", "planned", "laid", "pegs measured", "moved", "rms", "most", "reading at 20 °C"],
      ...loops.map((one) => [
        terminalName(one.loop),
        `${one.planned_m.toFixed(1)} m`,
        `${one.laid_m.toFixed(1)} m`,
        `${one.pegs_measured} of ${one.pegs}`,
        String(one.pegs_moved),
        cm(one.rms_m),
        cm(one.most_m),
        `${one.reading.at_20_c_ohm.toFixed(1)} ohm (${one.reading.least_ohm.toFixed(1)} to ${one.reading.most_ohm.toFixed(1)})`,
      ]),
    ],
    1,
    2,
  );
  const lines = [...byLoop, ""];
  if (stretches.length === 0) lines.push("The wire lies as planned, as far as was measured.");
  else {
    const shown = stretches.slice(0, 12);
    lines.push("Off the plan (into the lawn +, towards the edge −)");
    lines.push(
      ...table(
        [
          ["from", "to", "pegs", "most"],
          ...shown.map((one) => [
            one.from,
            one.to,
            String(one.pegs),
            `${one.most_left_m > 0 ? "+" : "−"}${cm(Math.abs(one.most_left_m))}`,
          ]),
        ],
        2,
        2,
      ).map((row) => `  ${row}`),
    );
    const rest = stretches.length - shown.length;
    if (rest > 0) lines.push(`  and ${rest} more`);
  }
  lines.push("");
  if (verdict === "holds") lines.push("As laid, all rules that could be measured hold.");
  else if (verdict === "broken")
    lines.push("As laid, rules are BROKEN: see the findings. Do not start the machine yet.");
  else lines.push("No site was given: rules were not measured. Name its files after the track.");
  return `${lines.join("\n")}\n`;
}
