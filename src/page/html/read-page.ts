/** The data of a page that was written earlier, out of its text. Nothing of it is run. */
import { done, failed, type Outcome, type Problem } from "../../model/finding.ts";
import { VERSION } from "../../version.ts";
import { isPageModel } from "../model/is-page-model.ts";
import type { PageData } from "../model/page-data.ts";
import { dataId } from "./page-html.ts";

/**
 * @param name of the file, for messages
 * @returns what its elements of data hold; problems `PAGE_UNREADABLE`, and `PAGE_OF_OTHER_VERSION`
 *   for one of another version, whose data another app has written
 */
export function readPage(text: string, name: string): Outcome<PageData> {
  let values: Record<"model" | "picture" | "job" | "system", unknown>;
  try {
    values = {
      model: block(text, "model"),
      picture: block(text, "picture"),
      job: block(text, "job"),
      system: block(text, "system"),
    };
  } catch {
    return failed(unreadable(name));
  }
  const { model, picture, job, system } = values;
  const version = (model as { version?: unknown } | null | undefined)?.version;
  if (typeof version === "string" && version !== VERSION) return failed(ofOther(name, version));
  if (!isPageModel(model)) return failed(unreadable(name));
  return done({
    model,
    ...(isPicture(picture) && { picture }),
    ...(job !== undefined && { job }),
    ...(isSystem(system) && { system }),
  });
}

/** Our JSON holds no `<`, so that the element ends at the first one. */
function block(text: string, name: string): unknown {
  const head = `<script type="application/json" id="${dataId(name)}">`;
  const from = text.indexOf(head);
  if (from < 0) return undefined;
  const to = text.indexOf("<", from + head.length);
  return JSON.parse(text.slice(from + head.length, to));
}

function isPicture(value: unknown): value is NonNullable<PageData["picture"]> {
  if (typeof value !== "object" || value === null) return false;
  const { name, url, toGrid } = value as Record<string, unknown>;
  const isHere = typeof url === "string" && /^data:image\/(?:png|jpeg);base64,/.test(url);
  return typeof name === "string" && isHere && Array.isArray(toGrid) && toGrid.length === 6;
}

function isSystem(value: unknown): value is NonNullable<PageData["system"]> {
  if (typeof value !== "object" || value === null) return false;
  const { name, centre, reachM, nodes } = value as Record<string, unknown>;
  const isNumber = (one: unknown) => Number.isFinite(one);
  const isPair = (one: unknown) => Array.isArray(one) && one.length === 2 && one.every(isNumber);
  const hasNodes = Array.isArray(nodes) && nodes.length === 9 && nodes.every(isPair);
  return typeof name === "string" && isPair(centre) && isNumber(reachM) && hasNodes;
}

const unreadable = (file: string): Problem => ({
  code: "PAGE_UNREADABLE",
  kind: "input",
  file,
  message: "there is no plan in the page that can be read",
  remedy: "Give a plan.html that `pegline plan` or `pegline revise` wrote, unchanged.",
});

const ofOther = (file: string, version: string): Problem => ({
  code: "PAGE_OF_OTHER_VERSION",
  kind: "input",
  file,
  message: `the page was written by version ${version.slice(0, 20)}; this is ${VERSION}`,
  remedy: "Plan again with this version, or open the file itself in a browser.",
});
