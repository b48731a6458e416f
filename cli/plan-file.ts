import { stat } from "node:fs/promises";
import { join } from "node:path";

/** A folder of results stands for the plan in it. */
export async function planFileOf(path: string): Promise<string> {
  const info = await stat(path).catch(() => undefined);
  return info?.isDirectory() ? join(path, "plan.geojson") : path;
}
