import type { Command } from "commander";
import { parseCount, parseParts, parsePositive, parseValue } from "../parse-options.ts";
import { command, withProfile, withSiteOptions } from "./shared-options.ts";

/** Describes `pegline batch`. */
export function addBatch(program: Command, finish: (code: number) => void): void {
  const batch = command(
    program,
    "batch [INPUT...]",
    "Plan every plot of large inputs, or of a stream (-), on all cores.",
  )
    .option("--by <FIELD>", "features with the same value of this attribute are a plot", parseValue)
    .option("--each-lawn", "each lawn with what lies at it is a plot")
    .option(
      "--out <DIR>",
      "folder for the results; - for a text sequence to standard output",
      parseValue,
    )
    .option("--jobs <N>", "plots planned at once; default: one for each core", parseCount)
    .option("--plot-seconds <N>", "longest time for one plot; default: 1800", parsePositive)
    .option("--restart", "begin anew where an earlier run did not end")
    .option(
      "--parts <own|carried|none>",
      "what becomes of parts that the machine cannot drive to; default: own",
      parseParts,
    )
    .option("--terrain <FILE>", "heights of the ground (GeoTIFF, ESRI ASCII grid)", parseValue)
    .option("--no-split", "one loop for each part, even where it is more than one loop may have");
  withSiteOptions(withProfile(batch))
    .option("--site <FILE>", "site file whose rules hold for every plot", parseValue)
    .addHelpText(
      "after",
      `
Examples:
  pegline batch county.gpkg --by parcel --out county-plans
  pegline batch parks.geojson --each-lawn --profile large
  pegline batch - < plots.geojsons > plans.geojsons
`,
    )
    .action(async (inputs: string[], options) => {
      const { batchCommand } = await import("../commands/batch.ts");
      finish(await batchCommand(inputs, options));
    });
}
