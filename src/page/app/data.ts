/** What the file holds beside the scripts. */
import { dataId } from "../html/page-html.ts";
import type { PageData } from "../model/page-data.ts";

/** Text of a block of the file; empty where there is none. */
export function blockText(name: string): string {
  return document.getElementById(dataId(name))?.textContent ?? "";
}

function block<T>(name: string): T | undefined {
  const text = blockText(name);
  return text === "" ? undefined : (JSON.parse(text) as T);
}

export function readData(): PageData {
  const picture = block<NonNullable<PageData["picture"]>>("picture");
  const system = block<NonNullable<PageData["system"]>>("system");
  const job = block<unknown>("job");
  const other = block<NonNullable<PageData["other"]>>("other");
  const live = block<NonNullable<PageData["live"]>>("live");
  return {
    model: block<PageData["model"]>("model")!,
    ...(picture !== undefined && { picture }),
    ...(system !== undefined && { system }),
    ...(job !== undefined && { job }),
    ...(other !== undefined && { other }),
    ...(live !== undefined && { live }),
  };
}
