/** All pegs in laying order. */
import type { PagePeg } from "../../model/page-model.ts";
import { fill, h } from "../dom.ts";
import { ICONS } from "../icons.ts";
import { type Column, type List, list } from "../list.ts";
import type { App, Panel } from "../part.ts";

export const pegsPanel: Panel = {
  id: "pegs",
  label: "panel.pegs",
  icon: ICONS.pegs,
  order: 40,
  mount(root, app) {
    root.classList.add("fills");
    let shown = draw(root, app);
    return {
      update: (state, before) => {
        if (state.model !== before.model) shown = draw(root, app);
        else if (state.selected !== before.selected) shown.mark(state.selected);
      },
    };
  },
};

function draw(root: HTMLElement, app: App): List {
  const { model, words, selected } = app.store.state;
  const { length, number } = words.measures;
  const columns: Column<PagePeg>[] = [
    { head: words.t("kind.peg"), text: (peg) => peg.number, width: "minmax(0, 1fr)" },
    {
      head: words.t("figure.chainage"),
      text: (peg) => length(peg.chainageM),
      width: "minmax(0, 1.5fr)",
      align: "end",
    },
    {
      head: words.t("figure.why"),
      text: (peg) => words.t(`place.${peg.reason}`),
      width: "minmax(0, 1.2fr)",
    },
    ...(words.units === "m"
      ? ([0, 1] as const).map(
          (axis): Column<PagePeg> => ({
            head: `${words.t(axis === 0 ? "figure.east" : "figure.north")} m`,
            text: (peg) => number(peg.at[axis], 2),
            width: "minmax(0, 1fr)",
            align: "end",
          }),
        )
      : []),
  ];
  const made = list({
    label: words.t("panel.pegs"),
    columns,
    rows: model.pegs,
    idOf: (peg) => peg.id,
    take: (peg) => app.select(peg.id, { show: true }),
  });
  const find = h("input", {
    type: "text",
    name: "find-peg",
    autocomplete: "off",
    spellcheck: "false",
    input: () => {
      const wanted = find.value.trim().toUpperCase();
      const peg = wanted && model.pegs.find(({ number: own }) => own.toUpperCase() === wanted);
      if (peg) app.select(peg.id, { show: true });
    },
  });
  fill(root, h("label", { class: "field find" }, words.t("pegs.find"), find), made.element);
  made.mark(selected);
  return made;
}
