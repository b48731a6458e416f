import { terminalName } from "../src/escape/terminal.ts";
import type { InspectedInput, InspectedLayer } from "../src/jobs/inspection.ts";

/** What is in the files, for people. */
export function inspectionText(
  inputs: readonly InspectedInput[],
  extentM: readonly [number, number] | null,
): string {
  const blocks = inputs.map(({ file, format, layers }) =>
    [`${terminalName(file)} (${format})`, ...layers.map(layerText)].join("\n"),
  );
  const extent = extentM
    ? `Extent ${sizeText(extentM)}`
    : "Extent not known: nothing has a place on earth yet";
  return `${[...blocks, extent].join("\n\n")}\n\n`;
}

function layerText(layer: InspectedLayer): string {
  const shapes = listOf(layer.geometries);
  const roles = listOf(layer.roles);
  return [
    `  layer ${terminalName(layer.name)}`,
    `    ${layer.features} feature${layer.features === 1 ? "" : "s"}${shapes ? ` (${shapes})` : ""}, ${layer.vertices} vertices`,
    `    reference system: ${layer.crs ? `${terminalName(layer.crs)}, from ${terminalName(layer.crs_from ?? "")}` : "not known"}`,
    `    role: ${layer.role === "several" ? roles : (layer.role ?? "none")}${layer.role_from ? `, by ${terminalName(layer.role_from)}` : ""}`,
    `    extent: ${layer.extent_m ? sizeText(layer.extent_m) : "not known"}`,
    `    attributes: ${layer.fields.length > 0 ? layer.fields.map(terminalName).join(", ") : "none"}`,
  ].join("\n");
}

function sizeText([width, height]: readonly [number, number]): string {
  return `${width.toFixed(1)} m × ${height.toFixed(1)} m`;
}

function listOf(counts: Readonly<Record<string, number>>): string {
  return Object.entries(counts)
    .map(([name, count]) => `${count} ${name}`)
    .join(", ");
}
