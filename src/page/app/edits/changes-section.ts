/** Figures before and after, and findings that came. */

import { h, name } from "../dom.ts";
import { money } from "../panels/money.ts";
import type { App } from "../part.ts";
import { refill } from "./fields.ts";
import { plannerOf } from "./planner.ts";

const SHOWN = ["wireM", "pegs", "islands", "mownM2", "handTrimM2", "cutOffM2"] as const;
const LABELS = {
  wireM: "plan.wire",
  pegs: "plan.pegs",
  islands: "plan.islands",
  mownM2: "plan.mown",
  handTrimM2: "plan.handTrim",
  cutOffM2: "plan.cutOff",
} as const;

export function changes(root: HTMLElement, app: App): void {
  const { differences: found, history } = plannerOf(app).store.state;
  const { words, model } = app.store.state;
  if (!found || history.done.length === 0) {
    refill(root);
    return;
  }
  const shown = (key: (typeof SHOWN)[number], value: number) =>
    words.figure(
      key.endsWith("M2")
        ? { areaM2: value }
        : key === "wireM"
          ? { lengthM: value }
          : { count: value },
    );
  const rows = SHOWN.map((key) => {
    const { before, after } = found.totals[key];
    return [words.t(LABELS[key]), shown(key, before), shown(key, after)] as const;
  });
  const { price } = found;
  if (price) {
    const [before, after] = [price.before, price.after].map((one) =>
      money(one, price.currency, words),
    );
    rows.push([words.t("plan.price"), before!, after!]);
  }
  const heads = [words.t("edit.before"), words.t("edit.after")];
  const ids = new Map(model.findings.map((one) => [`${one.code} ${one.message}`, one.id]));
  refill(
    root,
    h("h2", {}, words.t("edit.differences")),
    h(
      "table",
      { class: "edit-changes" },
      h(
        "thead",
        {},
        h("tr", {}, h("td", {}), ...heads.map((text) => h("th", { scope: "col" }, text))),
      ),
      h(
        "tbody",
        {},
        ...rows.map(([label, before, after]) =>
          h(
            "tr",
            { class: before === after ? "" : "changed" },
            h("th", { scope: "row" }, label),
            h("td", {}, before),
            h("td", {}, after),
          ),
        ),
      ),
    ),
    found.added.length > 0 && h("h3", {}, words.t("edit.added")),
    found.added.length > 0 &&
      h(
        "ul",
        { lang: "en" },
        ...found.added.map((one) => {
          const id = ids.get(`${one.code} ${one.message}`);
          const text = name(one.message);
          if (id === undefined || !one.at) return h("li", {}, text);
          const press = () => app.select(id, { show: true });
          return h("li", {}, h("button", { type: "button", class: "link", click: press }, text));
        }),
      ),
    found.gone.length > 0 &&
      h("p", { class: "note" }, words.t("edit.gone", { count: found.gone.length })),
  );
}
