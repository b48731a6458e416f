import { readdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import type { PlanFile } from "../../../src/export/plan-files.ts";

/** Two results that share no byte but the mark of whose they are. */
export const resultOf = (letter: string): PlanFile[] => [
  { name: "plan.geojson", text: letter.repeat(1000) },
  { name: "summary.json", text: JSON.stringify({ tool: "pegline", letter }) },
];

/** What somebody sees who opens the files of a folder; undefined where there is no folder. */
export async function seen(folder: string): Promise<Record<string, string> | undefined> {
  const names = await readdir(folder).catch(() => undefined);
  if (!names) return undefined;
  const files: Record<string, string> = {};
  for (const name of names.filter((one) => !one.startsWith("."))) {
    const text = await readFile(join(folder, name), "utf8").catch(() => undefined);
    if (text !== undefined) files[name] = text;
  }
  return files;
}

export const asSeen = (files: readonly PlanFile[]) =>
  Object.fromEntries(files.map(({ name, text }) => [name, text]));

/** Everything in a folder, at any depth, hidden or not. */
export async function allIn(folder: string): Promise<string[]> {
  return (await readdir(folder, { recursive: true })).sort();
}
