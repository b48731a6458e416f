import type { Command } from "commander";
import { command, withPlanOptions } from "./shared-options.ts";

/** Describes `pegline plan`. */
export function addPlan(program: Command, finish: (code: number) => void): void {
  withPlanOptions(command(program, "plan [INPUT...]", "Plan the wire and write the results."))
    .addHelpText(
      "after",
      `
Examples:
  pegline plan garden.geojson
  pegline plan lawn.shp beds.shp --crs EPSG:27700 --role beds=bed --out garden-plan
  pegline plan garden.kml --profile my-machine.json --json
  pegline plan garden.kml --sheet A3 --scale 200
  pegline plan garden.kml --format gpkg,dxf --out-crs EPSG:25832
  pegline plan pegline.json
`,
    )
    .action(async (inputs: string[], options) => {
      const { planCommand } = await import("../commands/plan.ts");
      finish(await planCommand(inputs, options));
    });
}
