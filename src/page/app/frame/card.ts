/** What is selected, with its figures; stands over every panel. */

import { describe, spoken } from "../describe.ts";
import { fill, h, icon, name } from "../dom.ts";
import { ICONS } from "../icons.ts";
import type { App, AppState } from "../part.ts";
import type { Frame } from "./frame.ts";

export function card(app: App, { card: root }: Frame): void {
  const draw = () => {
    const { selected, words } = app.store.state;
    const isListed = isShownInList(app.store.state);
    const what =
      selected === undefined || isListed ? undefined : describe(selected, app.store.state);
    root.hidden = what === undefined;
    if (!what || selected === undefined) return fill(root);
    const close = h(
      "button",
      {
        type: "button",
        class: "plain",
        "aria-label": words.t("action.close"),
        click: () => app.select(undefined),
      },
      icon(ICONS.close),
    );
    fill(
      root,
      h(
        "div",
        { class: "card-head" },
        h("h2", {}, h("span", { class: "kind" }, what.kind), " ", name(what.name)),
        close,
      ),
      what.text !== undefined && h("p", { lang: "en" }, what.text),
      h(
        "dl",
        { class: "figures" },
        ...what.figures.flatMap(({ label, value }) => [
          h("dt", {}, label),
          h("dd", {}, name(value)),
        ]),
      ),
      actions(app, selected),
    );
  };
  app.store.subscribe((state, before) => {
    const { selected, words, model, panel } = state;
    const isSame = selected === before.selected && words === before.words;
    if (isSame && model === before.model && panel === before.panel) return;
    draw();
    if (selected === before.selected || selected === undefined) return;
    const what = describe(selected, state);
    if (what) app.announce(spoken(what));
  });
}

/** The list of findings says it all itself. */
const isShownInList = ({ panel, selected }: AppState) =>
  panel === "findings" && selected?.startsWith("finding:") === true;

/** What can be done with what is selected. */
function actions(app: App, id: string): HTMLElement | undefined {
  const { words, panel } = app.store.state;
  if (!app.map.subject(id)) return undefined;
  const button = (label: string, press: () => void) =>
    h("button", { type: "button", class: "link", click: press }, label);
  const isWalked = id.startsWith("peg:") && panel !== "walk";
  return h(
    "div",
    { class: "actions" },
    button(words.t("action.near"), () => app.map.lookAt(id)),
    isWalked && button(words.t("action.walk"), () => app.open("walk")),
  );
}
