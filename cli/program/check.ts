import type { Command } from "commander";
import { command, withProfile, withSiteFile } from "./shared-options.ts";

/** Describes `pegline check`. */
export function addCheck(program: Command, finish: (code: number) => void): void {
  const check = command(
    program,
    "check [PLAN] [INPUT...]",
    "Measure a wire, ours or one edited or drawn elsewhere, against the site.",
  );
  withSiteFile(withProfile(check))
    .addHelpText(
      "after",
      `
Examples:
  pegline check garden/plan.geojson garden.kml
  pegline check drawn-wire.kml garden.kml --profile small --json
  pegline check garden pegline.json
`,
    )
    .action(async (plan: string | undefined, inputs: string[], options) => {
      const { checkCommand } = await import("../commands/check.ts");
      finish(await checkCommand(plan === undefined ? [] : [plan, ...inputs], options));
    });
}
