import { existsSync } from "node:fs";
import { readFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import type { PageAssets } from "../src/page/html/page-html.ts";

/** What the build made for every page; it lies beside the command. */
export async function pageAssets(): Promise<PageAssets> {
  return JSON.parse(await readFile(assetsPath(), "utf8"));
}

/** Chunks of the command lie deeper than the command itself. */
function assetsPath(): string {
  const inDist = "page/assets.json";
  let folder = dirname(fileURLToPath(import.meta.url));
  while (!existsSync(join(folder, inDist)) && dirname(folder) !== folder) folder = dirname(folder);
  return join(folder, inDist);
}
