import type { Command } from "commander";
import { parsePositive, parseValue } from "../parse-options.ts";
import { command, withProfile, withSiteFile } from "./shared-options.ts";

/** Describes `pegline compare`. */
export function addCompare(program: Command, finish: (code: number) => void): void {
  const compare = command(
    program,
    "compare [PLAN] [TRACK] [INPUT...]",
    "Compare the wire as laid (a walked track, surveyed pegs, an edited wire) with its plan.",
  )
    .option("--out <FILE>", "write the as-laid record to this file (GeoJSON)", parseValue)
    .option("--force", "replace a file that is already there")
    .option("--noise <M>", "standard error of the receiver, metres; default: 0.02", parsePositive)
    .option("--align", "take a shift that all measurements have in common off first");
  withSiteFile(withProfile(compare))
    .addHelpText(
      "after",
      `
Examples:
  pegline compare garden/plan.geojson walked.gpx
  pegline compare garden pegs.csv garden.kml --crs EPSG:25832 --out garden-as-laid.geojson
`,
    )
    .action(
      async (plan: string | undefined, track: string | undefined, inputs: string[], given) => {
        const { compareCommand } = await import("../commands/compare.ts");
        const args = [plan, track].filter((one) => one !== undefined);
        finish(await compareCommand([...args, ...inputs], given));
      },
    );
}
