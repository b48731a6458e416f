import type { Command } from "commander";
import { command, withPlanOptions } from "./shared-options.ts";

/** Describes `pegline revise`. */
export function addRevise(program: Command, finish: (code: number) => void): void {
  withPlanOptions(
    command(
      program,
      "revise [OLD] [INPUT...]",
      "Plan a changed site so that as much of the wire in the ground as may be stays.",
    ),
  )
    .addHelpText(
      "after",
      `
Examples:
  pegline revise garden/plan.geojson garden-with-new-bed.kml --out garden-2
  pegline revise garden-as-laid.geojson pegline.json
`,
    )
    .action(async (old: string | undefined, inputs: string[], options) => {
      const { reviseCommand } = await import("../commands/revise.ts");
      finish(await reviseCommand(old === undefined ? [] : [old, ...inputs], options));
    });
}
