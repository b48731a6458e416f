/** What to buy and what it comes to; joints, which lead to their places. */
import type { PageMaterial, PageModel } from "../../model/page-model.ts";
import type { Words } from "../../words/words.ts";
import { append, fill, h, name } from "../dom.ts";
import { ICONS } from "../icons.ts";
import type { App, Panel } from "../part.ts";
import { drawnAnew } from "./drawn-anew.ts";
import { money } from "./money.ts";

export const materialsPanel: Panel = {
  id: "materials",
  label: "panel.materials",
  icon: ICONS.materials,
  order: 70,
  mount: drawnAnew(draw),
};

function draw(root: HTMLElement, app: App): void {
  const { model, words } = app.store.state;
  fill(root, h("h2", {}, words.t("materials.list")), materials(model, words));
  append(root, prices(model, words), joints(model, words, app));
}

function table(heads: readonly string[], rows: readonly (readonly (Node | string)[])[]) {
  return h(
    "table",
    {},
    h("thead", {}, h("tr", {}, ...heads.map((text) => h("th", { scope: "col" }, text)))),
    h(
      "tbody",
      {},
      ...rows.map(([first, ...rest]) =>
        h("tr", {}, h("th", { scope: "row" }, first), ...rest.map((one) => h("td", {}, one))),
      ),
    ),
  );
}

function materials({ materials: lines, reelM }: PageModel, words: Words): HTMLElement {
  const shown = (value: number | undefined, { unit }: PageMaterial) => {
    if (value === undefined) return "?";
    return unit === "m" ? words.measures.length(value) : String(value);
  };
  return table(
    [
      words.t("materials.what"),
      words.t("materials.used"),
      words.t("materials.spare"),
      words.t("materials.toBuy"),
    ],
    lines.map((line) => [
      words.say({ key: `material.${line.material}`, values: { reel: { sizeM: reelM } } }),
      shown(line.used, line),
      line.spare === 0 ? "–" : shown(line.spare, line),
      h("strong", {}, shown(line.toBuy, line)),
    ]),
  );
}

function prices({ prices: bill }: PageModel, words: Words): HTMLElement | undefined {
  if (!bill) return undefined;
  const sum = (amount: number) => money(amount, bill.currency, words);
  const { number } = words.measures;
  return h(
    "section",
    {},
    h("h2", {}, words.t("materials.prices")),
    table(
      [
        words.t("materials.what"),
        words.t("materials.quantity"),
        words.t("materials.each"),
        words.t("materials.amount"),
      ],
      [
        ...bill.lines.map((line) => [
          name(line.name),
          number(line.quantity, Number.isInteger(line.quantity) ? 0 : 2),
          sum(line.unitPrice),
          sum(line.amount),
        ]),
        [words.t("materials.net"), "", "", sum(bill.net)],
        [words.t("materials.tax"), `${number(100 * bill.taxRate, 1)} %`, "", sum(bill.tax)],
        [words.t("materials.total"), "", "", h("strong", {}, sum(bill.total))],
      ],
    ),
  );
}

function joints(model: PageModel, words: Words, app: App): HTMLElement | undefined {
  if (model.joints.length === 0) return undefined;
  return h(
    "section",
    {},
    h("h2", {}, words.t("materials.joints")),
    table(
      [
        words.t("kind.joint"),
        words.t("kind.peg"),
        words.t("figure.chainage"),
        words.t("figure.joins"),
      ],
      model.joints.map((joint) => [
        h(
          "button",
          {
            type: "button",
            class: "link",
            click: () => app.select(`joint:${joint.number}`, { show: true }),
          },
          joint.number,
        ),
        joint.peg === "" ? "–" : joint.peg,
        words.measures.length(joint.chainageM),
        words.t(`joins.${joint.joins}`),
      ]),
    ),
  );
}
