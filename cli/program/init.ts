import type { Command } from "commander";
import { parseValue } from "../parse-options.ts";
import { command, withSiteOptions } from "./shared-options.ts";

/** Describes `pegline init`. */
export function addInit(program: Command, finish: (code: number) => void): void {
  const init = command(
    program,
    "init <INPUT...>",
    "Write a site file with comments from what is in the files, to edit and plan from.",
  )
    .option("--out <FILE>", "the file to write; default: pegline.json", parseValue)
    .option("--force", "replace a file that is already there");
  withSiteOptions(init)
    .addHelpText("after", "\nExample:\n  pegline init lawn.shp beds.shp --out pegline.json\n")
    .action(async (inputs: string[], options) => {
      const { initCommand } = await import("../commands/init.ts");
      finish(await initCommand(inputs, options));
    });
}
