/** What is to be drawn, on the map or by numbers. */

import { h } from "../dom.ts";
import type { App } from "../part.ts";
import { drawTyped } from "./draw.ts";
import { button, choice, number, refill } from "./fields.ts";
import { DRAWABLE, type Drawable, editingOf, isRound } from "./state.ts";

export function draw(root: HTMLElement, app: App): void {
  const { words } = app.store.state;
  const editing = editingOf(app);
  const { what } = editing.state;
  const wordOf = (one: Drawable) =>
    one === "no-wire" ? words.t("edit.noWire") : words.t(`role.${one}`);
  const middle = app.map.view.getCenter() ?? [0, 0];
  const at = middle.map((one) => Math.round(10 * one) / 10) as [number, number];
  const nothing = () => {};
  refill(
    root,
    h("h2", {}, words.t("edit.draw")),
    choice(
      "draw-what",
      words.t("edit.drawWhat"),
      DRAWABLE.map((one) => [one, wordOf(one)]),
      what,
      (value) => editing.set({ what: value as Drawable }),
    ),
    button("draw-on-map", words.t("edit.drawOnMap"), () => app.store.set({ tool: "draw" })),
    h(
      "fieldset",
      { class: "pair" },
      h("legend", {}, words.t("edit.typed")),
      number("draw-east", words.t("edit.east"), at[0], nothing, { step: 0.1 }),
      number("draw-north", words.t("edit.north"), at[1], nothing, { step: 0.1 }),
      ...(isRound(what)
        ? [number("draw-width", words.t("edit.diameter"), 0.3, nothing, { min: 0 })]
        : [
            number("draw-width", words.t("edit.width"), 2, nothing, { step: 0.1, min: 0 }),
            number("draw-height", words.t("edit.height"), 2, nothing, { step: 0.1, min: 0 }),
          ]),
      button("draw-add", words.t("edit.add"), () => drawTyped(app, root)),
    ),
  );
}
