import type { Command } from "commander";
import { parseCrs, parseValue } from "../parse-options.ts";
import { command, withFormats } from "./shared-options.ts";

/** Describes `pegline convert`. */
export function addConvert(program: Command, finish: (code: number) => void): void {
  const convert = command(
    program,
    "convert [PLAN]",
    "Write a plan in other formats, from any format that a plan was written in.",
  )
    .option("--out <DIR>", "folder for the files; default: named after the plan", parseValue)
    .option("--crs <EPSG:N>", "reference system of the plan, where its file states none", parseCrs);
  withFormats(convert)
    .addHelpText(
      "after",
      `
Examples:
  pegline convert garden/plan.geojson --format gpkg,kmz
  pegline convert garden --format dxf --out-crs EPSG:27700 --out garden-drawing
  pegline convert edited.gpkg --format geojson
`,
    )
    .action(async (plan: string | undefined, options) => {
      const { convertCommand } = await import("../commands/convert.ts");
      finish(await convertCommand(plan, options));
    });
}
