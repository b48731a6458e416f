import type { Verdict } from "../check/check-plan.ts";
import type { Measure } from "../check/measure.ts";
import { terminalName } from "../escape/terminal.ts";
import { table } from "./plain-text.ts";

/** The table of the judge for people: measured against allowed, and the verdict. */
export function checkText({ verdict, measures }: Verdict, profileName: string): string {
  const rows = table(
    [
      ["rule", "measured", "allowed", "", "what is measured"],
      ...measures.map((one) => [
        one.rule,
        figure(one.measured, one),
        one.measured === null || one.allowed === null
          ? ""
          : `${one.bound} ${figure(one.allowed, one)}`,
        one.holds === null ? "not measured" : one.holds ? "holds" : "BROKEN",
        one.note === undefined ? one.title : `${one.title} (${one.note})`,
      ]),
    ],
    1,
    3,
  );
  const broken = measures.filter((one) => one.holds === false).map((one) => one.rule);
  const open = measures.filter((one) => one.holds === null).length;
  const last =
    verdict === "holds"
      ? `The plan holds in all that could be measured${open > 0 ? `; ${open} of ${measures.length} rules were not measured` : ""}.`
      : `The plan is broken: ${broken.join(", ")}. Do not lay it as it stands.`;
  return `Measured against machine profile ${terminalName(profileName)}\n\n${rows.map((row) => `  ${row}`).join("\n")}\n\n${last}\n`;
}

function figure(value: number | null, { unit }: Measure): string {
  if (value === null) return "";
  if (unit === "count") return String(value);
  return `${value.toFixed(unit === "m" ? 4 : 2)} ${unit}`;
}
