/** An invented garden planned on the ground of a raster. */
import { epsgRegistry } from "../../../cli/epsg-registry.ts";
import { siteGridAt } from "../../../src/crs/site-grid.ts";
import { planFiles, planInputs, type TerrainInput } from "../../../src/index.ts";
import type { InputFile } from "../../../src/model/features.ts";
import { geojsonInput } from "../../support/planning.ts";

export const grid = siteGridAt([-28.5, 47.25]);
const ring = (...corners: [number, number][]) =>
  [...corners, corners[0]!].map((corner) => [...grid.inverse(corner)]);
const polygon = (properties: object, ...corners: [number, number][]) => ({
  type: "Feature" as const,
  properties: { ...properties },
  geometry: { type: "Polygon" as const, coordinates: [ring(...corners)] },
});
/** An invented garden of 30 m by 18 m with a bed in it. */
export const GARDEN = geojsonInput([
  polygon({ role: "lawn", name: "Lawn" }, [-15, -9], [15, -9], [15, 9], [-15, 9]),
  polygon({ role: "bed", name: "Bed" }, [-2, -1], [2, -1], [2, 2], [-2, 2]),
]);

export async function planned(file: InputFile, more: Omit<TerrainInput, "file"> = {}) {
  const terrain = { file, ...more };
  const outcome = await planInputs([GARDEN], { registry: epsgRegistry, terrain });
  if (!outcome.ok) return { problem: outcome.problem.code };
  const { files, summary } = planFiles(outcome.value);
  const plan = JSON.parse(files[0]!.text);
  return {
    plan,
    summary,
    codes: outcome.value.findings.map((one) => one.code),
    result: outcome.value,
  };
}
export type Made = Exclude<Awaited<ReturnType<typeof planned>>, { problem: string }>;
export const made = async (...args: Parameters<typeof planned>) => (await planned(...args)) as Made;
