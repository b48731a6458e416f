/** The two plans in figures. */
import type { PlanComparison } from "../../model/compare-plans.ts";
import type { FigureValue, PageFinding, PageTotals } from "../../model/page-model.ts";
import type { WordKey } from "../../words/catalogue.ts";
import type { Words } from "../../words/words.ts";
import { append, fill, h, name } from "../dom.ts";
import type { App, Panel } from "../part.ts";
import {
  type CompareView,
  compareFiles,
  compareWith,
  comparing,
  otherName,
  stopComparing,
} from "./state.ts";
import { swatch } from "./swatch.ts";

const ICON = "M4 4h10v12H4z M10 8h10v12H10z";

export const comparePanel: Panel = {
  id: "compare",
  label: "panel.compare",
  icon: ICON,
  order: 75,
  mount(root, app) {
    const draw = () => drawPanel(root, app);
    draw();
    const unsubscribe = comparing.subscribe((state, before) => {
      draw();
      if (state.compared && state.other !== before.other) tell(app, state.compared);
    });
    return {
      update: (state, before) => {
        if (state.model !== before.model) draw();
      },
      close: unsubscribe,
    };
  },
};

function tell(app: App, { wire }: PlanComparison): void {
  const { words } = app.store.state;
  if (!wire) return;
  const [length, here, there] = (["both", "here", "there"] as const).map((where) =>
    words.figure({ lengthM: wire.lengthM[where] }),
  ) as [string, string, string];
  app.announce(words.t("compare.ready", { name: otherName(app.store.state), length, here, there }));
}

function drawPanel(root: HTMLElement, app: App): void {
  const { words } = app.store.state;
  const { compared, problem } = comparing.state;
  fill(root);
  if (problem) {
    const { code, message, remedy, file = "" } = problem;
    append(
      root,
      h(
        "div",
        { class: "problem", role: "alert" },
        h("p", {}, h("strong", {}, code), file !== "" && h("span", {}, " · ", name(file))),
        h("p", { lang: "en" }, message),
        h("p", { lang: "en" }, `${words.t("figure.remedy")}: ${remedy}`),
      ),
    );
  }
  if (!compared) append(root, choice(app));
  else {
    append(root, head(app), views(words), figures(app, compared));
    append(root, wires(app, compared), findings(app, compared));
  }
}

/** What may be compared. */
function choice(app: App): HTMLElement {
  const { words, model } = app.store.state;
  const first = app.data.model;
  const isChanged = model !== first && model.grid.origin.join() === first.grid.origin.join();
  return h(
    "div",
    {},
    h("p", {}, words.t("compare.intro")),
    h(
      "div",
      { class: "buttons" },
      fileButton(app),
      isChanged &&
        h(
          "button",
          {
            type: "button",
            class: "button",
            click: () => compareWith(app, { name: "", model: first }, true),
          },
          words.t("compare.before"),
        ),
    ),
  );
}

function fileButton(app: App): HTMLElement {
  const { words } = app.store.state;
  const input = h("input", {
    type: "file",
    hidden: true,
    multiple: true,
    accept: ".html,.htm,.geojson,.json",
  });
  input.addEventListener("change", async () => {
    const files = [...(input.files ?? [])];
    const texts = files.map(async (file) => ({ name: file.name, text: await file.text() }));
    if (files.length > 0) compareFiles(app, await Promise.all(texts));
    input.value = "";
  });
  return h(
    "span",
    {},
    input,
    h(
      "button",
      { type: "button", class: "button main", click: () => input.click() },
      words.t("compare.choose"),
    ),
  );
}

function head(app: App): HTMLElement {
  const { words } = app.store.state;
  return h(
    "div",
    { class: "compare-head" },
    h("h2", {}, name(words.t("compare.with", { name: otherName(app.store.state) }))),
    h("button", { type: "button", class: "button", click: stopComparing }, words.t("compare.stop")),
  );
}

function views(words: Words): HTMLElement {
  const all: CompareView[] = ["over", "side", "off"];
  return h(
    "fieldset",
    {},
    h("legend", {}, words.t("compare.view")),
    ...all.map((view) => {
      const checked = comparing.state.view === view;
      const box = h("input", { type: "radio", name: "compare-view", value: view, checked });
      box.addEventListener("change", () => {
        comparing.set({ view });
        // The panel has been drawn anew.
        document.querySelector<HTMLElement>(`input[name=compare-view][value=${view}]`)?.focus();
      });
      return h("label", { class: "choice" }, box, words.t(`compare.view.${view}`));
    }),
  );
}

type Unit = (value: number) => FigureValue;
const length: Unit = (lengthM) => ({ lengthM });
const area: Unit = (areaM2) => ({ areaM2 });
const count: Unit = (value) => ({ count: value });

const ROWS: readonly (readonly [key: keyof PageTotals, label: WordKey, unit: Unit])[] = [
  ["wireM", "plan.wire", length],
  ["wireToBuyM", "plan.wireToBuy", length],
  ["reels", "compare.reels", count],
  ["joints", "compare.joints", count],
  ["pegs", "plan.pegs", count],
  ["pegsToBuy", "compare.pegsToBuy", count],
  ["islands", "plan.islands", count],
  ["stations", "plan.stations", count],
  ["groundM2", "plan.ground", area],
  ["mownM2", "plan.mown", area],
  ["handTrimM2", "plan.handTrim", area],
  ["cutOffM2", "plan.cutOff", area],
];

/** From the other plan to this one; what is not known is NaN. */
function figures(app: App, { figures: { totals, price } }: PlanComparison): HTMLElement {
  const { words } = app.store.state;
  const shown = (value: number, unit: (value: number) => string) =>
    !Number.isFinite(value) ? "–" : unit(value);
  const row = (label: string, here: number, there: number, unit: (value: number) => string) =>
    h(
      "tr",
      {},
      h("th", { scope: "row" }, label),
      h("td", {}, shown(here, unit)),
      h("td", {}, shown(there, unit)),
      h("td", {}, h("strong", {}, difference(here, there, unit, words))),
    );
  const heads: WordKey[] = ["compare.figure", "compare.here", "compare.there", "compare.change"];
  const figureRows = ROWS.map(([key, label, unit]) => {
    const { before, after } = totals[key];
    return row(words.t(label), after, before, (value) => words.figure(unit(value)));
  });
  return h(
    "table",
    { class: "compare-table" },
    h("thead", {}, h("tr", {}, ...heads.map((key) => h("th", { scope: "col" }, words.t(key))))),
    h(
      "tbody",
      {},
      ...figureRows,
      price &&
        row(words.t("plan.price"), price.after, price.before, (value) =>
          new Intl.NumberFormat(words.language, {
            style: "currency",
            currency: price.currency,
          }).format(value),
        ),
    ),
  );
}

/** More is +, less is − (U+2212); what would be shown as nothing is none. */
function difference(
  here: number,
  there: number,
  unit: (value: number) => string,
  words: Words,
): string {
  if (!Number.isFinite(here - there)) return "–";
  const text = unit(Math.abs(here - there));
  if (text === unit(0)) return words.t("compare.same");
  return `${here > there ? "+" : "−"}${text}`;
}

function wires(app: App, { wire }: PlanComparison): HTMLElement {
  const { words } = app.store.state;
  const title = h("h2", {}, words.t("compare.wires"));
  if (!wire) return h("section", {}, title, h("p", { class: "note" }, words.t("compare.noPegs")));
  return h(
    "section",
    {},
    title,
    h(
      "dl",
      { class: "figures compare-wires" },
      ...(["both", "here", "there"] as const).flatMap((where) => [
        h("dt", {}, swatch(where, app.map.look), words.t(`compare.in.${where}`)),
        h(
          "dd",
          {},
          words.t("compare.wirePegs", {
            length: words.figure({ lengthM: wire.lengthM[where] }),
            pegs: wire.pegCount[where],
          }),
        ),
      ]),
    ),
  );
}

function findings(app: App, { figures: { added, gone } }: PlanComparison): HTMLElement {
  const { words } = app.store.state;
  const list = (title: WordKey, all: readonly PageFinding[], take: (one: PageFinding) => void) =>
    all.length > 0 &&
    h(
      "details",
      { open: all.length <= 6 },
      h("summary", {}, `${words.t(title)} (${all.length})`),
      h(
        "ul",
        { class: "compare-findings" },
        ...all.map((one) =>
          h(
            "li",
            {},
            one.at
              ? h("button", { type: "button", class: "link", click: () => take(one) }, one.code)
              : h("strong", {}, one.code),
            " ",
            h("span", { lang: "en" }, name(one.message)),
          ),
        ),
      ),
    );
  return h(
    "section",
    {},
    list("compare.findingsHere", added, (one) => app.select(one.id, { show: true })),
    list("compare.findingsThere", gone, (one) => one.at && app.map.centreOn(one.at, 0.025)),
  );
}
