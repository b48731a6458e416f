/** The plan in figures and what to mind: on the panel and on paper. */
import type { Figure, PageModel } from "../../model/page-model.ts";
import type { WordKey } from "../../words/catalogue.ts";
import type { Words } from "../../words/words.ts";
import { h } from "../dom.ts";
import { cautionText } from "./caution-text.ts";
import { money } from "./money.ts";

export function totals({ totals: all, prices }: PageModel, words: Words): HTMLElement {
  const rows: [WordKey, Figure["value"]][] = [
    ["plan.wire", { lengthM: all.wireM }],
    ["plan.wireToBuy", { lengthM: all.wireToBuyM }],
    ["plan.pegs", { count: all.pegs }],
    ["plan.islands", { count: all.islands }],
    ["plan.stations", { count: all.stations }],
    ["plan.ground", { areaM2: all.groundM2 }],
    ["plan.mown", { areaM2: all.mownM2 }],
    ["plan.handTrim", { areaM2: all.handTrimM2 }],
    ["plan.cutOff", { areaM2: all.cutOffM2 }],
    ...(prices
      ? [
          ["plan.price", { text: money(prices.total, prices.currency, words) }] as [
            WordKey,
            Figure["value"],
          ],
        ]
      : []),
  ];
  return h(
    "dl",
    { class: "figures totals" },
    ...rows.flatMap(([label, value]) => [
      h("dt", {}, words.t(label)),
      h("dd", {}, words.figure(value)),
    ]),
  );
}

export function cautions(model: PageModel, words: Words): HTMLElement {
  return h(
    "section",
    { class: "cautions" },
    h("h2", {}, words.t("plan.cautions")),
    h("ul", {}, ...model.cautions.map((one) => h("li", {}, cautionText(one, words)))),
    h("p", {}, words.t("page.unofficial")),
  );
}
