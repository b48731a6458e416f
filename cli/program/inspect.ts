import type { Command } from "commander";
import { command, withSiteFile } from "./shared-options.ts";

/** Describes `pegline inspect`. */
export function addInspect(program: Command, finish: (code: number) => void): void {
  const inspect = command(
    program,
    "inspect [INPUT...]",
    "Say what is in the files: layers, reference system, roles, what is repaired or missing.",
  );
  withSiteFile(inspect)
    .addHelpText("after", "\nExample:\n  pegline inspect garden.kml --json\n")
    .action(async (inputs: string[], options) => {
      const { inspectCommand } = await import("../commands/inspect.ts");
      finish(await inspectCommand(inputs, options));
    });
}
