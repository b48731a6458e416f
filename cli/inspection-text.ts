import { plainText } from "../src/export/plain-text.ts";
import type { InspectedInput, InspectedLayer } from "../src/inspection.ts";

/** What is in the files, for people. */
export function inspectionText(
  inputs: readonly InspectedInput[],
  extentM: readonly [number, number] | null,
): string {
  const blocks = inputs.map(({ file, format, layers }) =>
    [`${plainText(file)} (${format})`, ...layers.map(layerText)].join("\n"),
  );
  const extent = extentM
    ? `Extent ${extentM[0].toFixed(1)} m × ${extentM[1].toFixed(1)} m`
    : "Extent not known: nothing has a place on earth yet";
  return `${[...blocks, extent].join("\n\n")}\n\n`;
}

function layerText(layer: InspectedLayer): string {
  const shapes = listOf(layer.geometries);
  const roles = listOf(layer.roles);
  return [
    `  layer ${plainText(layer.name)}`,
    `    ${layer.features} features${shapes ? ` (${shapes})` : ""}, ${layer.vertices} vertices`,
    `    reference system: ${layer.crs ? `${plainText(layer.crs)}, from ${plainText(layer.crs_from ?? "")}` : "not known"}`,
    `    role: ${layer.role === "several" ? roles : (layer.role ?? "none")}`,
    `    attributes: ${layer.fields.length > 0 ? layer.fields.map(plainText).join(", ") : "none"}`,
  ].join("\n");
}

function listOf(counts: Readonly<Record<string, number>>): string {
  return Object.entries(counts)
    .map(([name, count]) => `${count} ${name}`)
    .join(", ");
}
