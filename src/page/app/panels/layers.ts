/** What is shown on the map, and how the page looks. */
import type { Language, LengthUnit } from "../../../model/hand-over-options.ts";
import { LANGUAGES, LENGTH_UNITS } from "../../../model/hand-over-options.ts";
import { wordsIn } from "../../words/words.ts";
import { append, h } from "../dom.ts";
import { ICONS } from "../icons.ts";
import { LAYER_NAMES, layerOf } from "../map/layer-names.ts";
import type { App, AppState, Panel } from "../part.ts";
import { choose } from "./choose.ts";
import { legend } from "./legend.ts";

export const layersPanel: Panel = {
  id: "layers",
  label: "panel.layers",
  icon: ICONS.map,
  order: 20,
  mount(root, app) {
    let shown = legend(app);
    append(root, look(app), layers(app), shown);
    const redraw = () => {
      const next = legend(app);
      shown.replaceWith(next);
      shown = next;
    };
    const stop = app.map.onLook(redraw);
    return {
      update: (state, before) => {
        if (state.model !== before.model) redraw();
      },
      close: stop,
    };
  },
};

function layers(app: App): HTMLElement {
  const { model, words, layers: shown } = app.store.state;
  const used = new Set<string>(model.shapes.map(({ kind }) => layerOf(kind)));
  used.add("names");
  if (model.pegs.length > 0) used.add("pegs");
  if (model.findings.some(({ at }) => at)) used.add("findings");
  if (app.data.picture) used.add("picture");
  const boxes = LAYER_NAMES.filter((name) => used.has(name))
    .reverse()
    .map((name) => {
      const box = h("input", { type: "checkbox", name: `layer-${name}`, checked: shown[name] });
      box.addEventListener("change", () => {
        app.store.set({ layers: { ...app.store.state.layers, [name]: box.checked } });
      });
      return h("label", { class: "choice" }, box, words.t(`layer.${name}`));
    });
  return h("fieldset", {}, h("legend", {}, words.t("display.layers")), ...boxes);
}

function look(app: App): HTMLElement {
  const { words, scheme, contrast } = app.store.state;
  const schemes: AppState["scheme"][] = ["auto", "light", "dark"];
  const more = h("input", { type: "checkbox", name: "contrast", checked: contrast === "more" });
  more.addEventListener("change", () => {
    app.store.set({ contrast: more.checked ? "more" : "auto" });
  });
  return h(
    "fieldset",
    {},
    h("legend", {}, words.t("display.look")),
    choose(
      words.t("display.scheme"),
      "scheme",
      schemes.map((one) => [one, words.t(`display.scheme.${one}`)]),
      scheme,
      (value) => app.store.set({ scheme: value as AppState["scheme"] }),
    ),
    h("label", { class: "choice" }, more, words.t("display.contrast")),
    choose(
      words.t("display.language"),
      "language",
      LANGUAGES.map((one) => [one, OWN_NAMES[one]]),
      words.language,
      (value) => app.store.set({ words: wordsIn(value as Language, words.units) }),
    ),
    choose(
      words.t("display.units"),
      "units",
      (Object.keys(LENGTH_UNITS) as LengthUnit[]).map((one) => [
        one,
        words.t(`display.units.${one}`),
      ]),
      words.units,
      (value) => app.store.set({ words: wordsIn(words.language, value as LengthUnit) }),
    ),
  );
}

/** Each language in its own words. */
const OWN_NAMES: Readonly<Record<Language, string>> = { en: "English", de: "Deutsch" };
