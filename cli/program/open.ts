import type { Command } from "commander";
import { parseLanguage, parsePort, parseUnits, parseValue } from "../parse-options.ts";
import { command, withPlanning, withSiteFile } from "./shared-options.ts";

/** Describes `pegline open`. */
export function addOpen(program: Command, finish: (code: number) => void): void {
  const open = command(
    program,
    "open [PLAN|INPUT...]",
    "Show a plan, or a site as it is planned, in a browser; files may change meanwhile.",
  )
    .option("--port <N>", "port on 127.0.0.1; default: one that is free", parsePort)
    .option("--browser", "start the browser of the system with it");
  withSiteFile(withPlanning(open))
    .option(
      "--image <FILE>",
      "picture beneath: GeoTIFF, or PNG or JPEG with a world file",
      parseValue,
    )
    .option("--language <en|de>", "language of the page at first; default: en", parseLanguage)
    .option("--units <m|ft>", "lengths in the page at first; default: m", parseUnits)
    .addHelpText(
      "after",
      `
Examples:
  pegline open garden
  pegline open garden garden-2
  pegline open pegline.json --browser
  pegline open garden.kml --profile small --port 8080
`,
    )
    .action(async (args: string[], options) => {
      const { openCommand } = await import("../commands/open.ts");
      finish(await openCommand(args, options));
    });
}
