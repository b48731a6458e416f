import { stat } from "node:fs/promises";
import { basename, dirname, extname, join } from "node:path";
import { PAGE_FILE_NAME } from "../../src/export/page-name.ts";
import { readPage } from "../../src/page/html/read-page.ts";
import type { PageData } from "../../src/page/model/page-data.ts";
import { openInputs } from "../open-inputs.ts";
import { misuse, Refusal } from "../refusal.ts";

/**
 * The page of a finished plan, where an argument names one: `plan.html`, the folder that it lies in,
 * or the `plan.geojson` beside it; undefined for any other file, which is an input.
 */
export async function pagePathOf(path: string): Promise<string | undefined> {
  if (/^\.html?$/i.test(extname(path))) return path;
  const info = await stat(path).catch(() => undefined);
  if (info?.isDirectory()) return join(path, PAGE_FILE_NAME);
  if (basename(path) !== "plan.geojson") return undefined;
  const beside = join(dirname(path), PAGE_FILE_NAME);
  return (await stat(beside).catch(() => undefined)) ? beside : undefined;
}

/** Plans that are there already: the first is shown, the second compared with it. */
export async function openPlans([first, second]: readonly string[]): Promise<PageData> {
  const data = await readPlan(first!);
  if (second === undefined) return data;
  return { ...data, other: { name: nameOf(second), model: (await readPlan(second)).model } };
}

async function readPlan(path: string): Promise<PageData> {
  const isThere = await stat(path).catch(() => undefined);
  if (!isThere && basename(path) === PAGE_FILE_NAME) {
    throw misuse(
      "PLAN_WITHOUT_PAGE",
      `There is no ${PAGE_FILE_NAME} in the folder.`,
      "Name a folder that `pegline plan` wrote, or the files of a site to have it planned.",
      path,
    );
  }
  const [file] = await openInputs([path]);
  const outcome = readPage(new TextDecoder().decode(file!.bytes), path);
  if (!outcome.ok) throw new Refusal(outcome.problem);
  return outcome.value;
}

/** A folder's name says more than that of every page in it. */
function nameOf(path: string): string {
  const folder = basename(dirname(path));
  return basename(path) === PAGE_FILE_NAME && folder !== "." ? folder : basename(path);
}
