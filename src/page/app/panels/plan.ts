/** The plan in figures, and what to mind. */
import type { PageModel } from "../../model/page-model.ts";
import type { WordKey } from "../../words/catalogue.ts";
import type { Words } from "../../words/words.ts";
import { append, fill, h } from "../dom.ts";
import { ICONS } from "../icons.ts";
import type { App, Panel } from "../part.ts";
import { drawnAnew } from "./drawn-anew.ts";
import { cautions, totals } from "./plan-parts.ts";

export const planPanel: Panel = {
  id: "plan",
  label: "panel.plan",
  icon: ICONS.plan,
  order: 10,
  mount: drawnAnew(draw),
};

function draw(root: HTMLElement, app: App): void {
  const { model, words } = app.store.state;
  const errors = model.findings.filter(({ severity }) => severity === "error").length;
  fill(root);
  if (errors > 0) {
    append(
      root,
      h(
        "button",
        { type: "button", class: "stop", click: () => app.open("findings") },
        words.t("plan.errors", { count: errors }),
      ),
    );
  }
  append(root, totals(model, words), loops(model, words, app), cautions(model, words));
  append(
    root,
    model.verdict &&
      h(
        "p",
        { class: "note" },
        words.t(model.verdict === "holds" ? "plan.holds" : "plan.brokenRules"),
      ),
    h("p", { class: "note" }, words.t(model.onGround ? "plan.onGround" : "plan.flat"), ". "),
    h(
      "p",
      { class: "note" },
      `${words.t("plan.machine")}: ${model.machine.label}. `,
      words.t("plan.madeBy", { tool: model.tool, version: model.version }),
      ".",
    ),
    licences(app),
  );
}

function loops(model: PageModel, words: Words, app: App): HTMLElement {
  const heads: WordKey[] = ["head.loop", "head.wire", "head.pegs", "head.mown", "head.reading"];
  return h(
    "section",
    {},
    h("h2", {}, words.t("plan.loops")),
    h(
      "table",
      {},
      h("thead", {}, h("tr", {}, ...heads.map((key) => h("th", { scope: "col" }, words.t(key))))),
      h(
        "tbody",
        {},
        ...model.loops.map((loop) =>
          h(
            "tr",
            {},
            h(
              "th",
              { scope: "row" },
              h(
                "button",
                {
                  type: "button",
                  class: "link",
                  click: () => app.select(`wire:${loop.name}`, { show: true }),
                },
                loop.name,
              ),
            ),
            h("td", {}, words.figure({ lengthM: loop.wireM })),
            h("td", {}, String(loop.pegs)),
            h("td", {}, words.figure({ areaM2: loop.mownM2 })),
            h("td", {}, words.figure({ ohm: loop.ohm })),
          ),
        ),
      ),
    ),
  );
}

/** Of the libraries in this file, as their licences ask. Filled when it is opened. */
function licences(app: App): HTMLElement {
  const text = h("pre", { class: "licences", tabindex: 0, lang: "en" });
  const details = h(
    "details",
    { class: "fold-out" },
    h("summary", {}, app.store.state.words.t("plan.licences")),
    text,
  );
  details.addEventListener("toggle", () => fill(text, details.open && app.text("notices")));
  return details;
}
