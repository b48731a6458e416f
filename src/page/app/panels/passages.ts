/** Passages with widths and verdicts. */
import type { PagePassage } from "../../model/page-model.ts";
import { fill, h } from "../dom.ts";
import { ICONS } from "../icons.ts";
import { type Column, type List, list } from "../list.ts";
import type { App, Panel } from "../part.ts";

export const passagesPanel: Panel = {
  id: "passages",
  label: "panel.passages",
  icon: ICONS.passages,
  order: 50,
  badge: ({ model }) => {
    const shut = model.passages.filter(({ verdict }) => verdict === "shut").length;
    return shut > 0 ? String(shut) : undefined;
  },
  badgeLabel: "badge.shut",
  mount(root, app) {
    root.classList.add("fills");
    let shown = draw(root, app);
    return {
      update: (state, before) => {
        if (state.model !== before.model) shown = draw(root, app);
        else if (state.selected !== before.selected) shown?.mark(state.selected);
      },
    };
  },
};

function draw(root: HTMLElement, app: App): List | undefined {
  const { model, words, selected } = app.store.state;
  if (model.passages.length === 0) {
    fill(root, h("p", { class: "note" }, words.t("passages.none")));
    return undefined;
  }
  const { length, area } = words.measures;
  const columns: Column<PagePassage>[] = [
    {
      head: words.t("passages.number"),
      text: ({ number }) => String(number),
      width: "minmax(0, 0.45fr)",
    },
    {
      head: words.t("passages.width"),
      text: ({ widthM }) => length(widthM),
      width: "minmax(0, 1fr)",
      align: "end",
    },
    {
      head: words.t("passages.wires"),
      text: ({ wireWidthM }) => length(wireWidthM),
      width: "minmax(0, 1fr)",
      align: "end",
    },
    {
      head: words.t("figure.verdict"),
      text: ({ verdict }) => words.t(`verdict.${verdict}`),
      width: "minmax(0, 1.5fr)",
    },
    {
      head: words.t("passages.beyond"),
      text: ({ beyondM2 }) => (beyondM2 > 0 ? area(beyondM2) : "–"),
      width: "minmax(0, 1fr)",
      align: "end",
    },
  ];
  const made = list({
    label: words.t("panel.passages"),
    columns,
    rows: model.passages,
    idOf: ({ id }) => id,
    take: ({ id }) => app.select(id, { show: true }),
  });
  fill(root, made.element);
  made.mark(selected);
  return made;
}
