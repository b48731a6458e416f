/** `plan.html` of a plan. Loaded on demand. */
import { shownText } from "../../escape/hidden.ts";
import type { PlanResult } from "../../export/plan-result.ts";
import type { HandOverOptions } from "../../model/hand-over-options.ts";
import { pageModel } from "../model/build-model.ts";
import type { PageData } from "../model/page-data.ts";
import { wordsIn } from "../words/words.ts";
import { type PageAssets, type PageContent, pageHtml } from "./page-html.ts";

export type PageExtras = Omit<PageData, "model">;

/**
 * The page of a plan as text. Same plan, options and assets, same bytes.
 *
 * @param extras what else the page is given: the job that it may replan, a picture
 */
export function planPage(
  result: PlanResult,
  options: Pick<HandOverOptions, "language" | "units">,
  assets: PageAssets,
  extras: PageExtras = {},
): string {
  return pageHtml(assets, pageContent({ model: pageModel(result, options), ...extras }));
}

/** What a page says and holds that shows this. */
export function pageContent(data: PageData): PageContent {
  const { siteName, language, units } = data.model;
  const words = wordsIn(language, units);
  return {
    title: words.t("page.title", { site: shownText(siteName) }),
    language,
    noScript: words.t("page.noScript"),
    data: { ...data },
  };
}
