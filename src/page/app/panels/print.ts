/** Printing true to scale: paper, scale, what is to be seen. */
import { SCALES } from "../../../model/sheet.ts";
import { fill, h } from "../dom.ts";
import { ICONS } from "../icons.ts";
import type { App, Panel } from "../part.ts";
import {
  type Extent,
  PRINT_PAPERS,
  type PrintLayout,
  type PrintPaper,
  type PrintWish,
  printLayout,
  SHEETS_MAX,
} from "../print/layout.ts";
import { makeSheets } from "../print/sheets.ts";
import { createStore, type Store } from "../store.ts";
import { choose } from "./choose.ts";

interface PrintState extends PrintWish {
  readonly what: "whole" | "seen";
}

/** The choice outlasts a change of language. */
const wish = createStore<PrintState>({
  paper: "A4",
  isLying: false,
  scale: undefined,
  what: "whole",
});

export const printPanel: Panel = {
  id: "print",
  label: "panel.print",
  icon: ICONS.print,
  order: 80,
  mount(root, app) {
    draw(root, app, wish);
    const stop = wish.subscribe(() => draw(root, app, wish));
    return {
      update: (state, before) => {
        if (state.model !== before.model) draw(root, app, wish);
      },
      close: stop,
    };
  },
};

/** Sheets for those who print without the panel: by the browser's own menu. */
export function printOnDemand(app: App): void {
  const paper = paperElement();
  addEventListener("beforeprint", () => {
    if (paper.childElementCount === 0) makeSheets(app, paper, layoutFor(app, wish.state));
  });
  // The plan may be another one when it is printed again.
  addEventListener("afterprint", () => fill(paper));
}

const paperElement = () => document.querySelector<HTMLElement>(".paper")!;

function layoutFor(app: App, state: PrintState): PrintLayout {
  const { model } = app.store.state;
  const seen = app.map.view.calculateExtent(
    app.map.ol.getSize() ?? [300, 300],
  ) as unknown as Extent;
  const extent = state.what === "seen" ? seen : model.extent;
  return printLayout(extent, state, (window) => app.map.hasAnything(window));
}

function draw(root: HTMLElement, app: App, store: Store<PrintState>): void {
  const { words } = app.store.state;
  const { state } = store;
  const layout = layoutFor(app, state);
  const count = layout.centres.length;
  const isTooMany = count > SHEETS_MAX;
  const focused = document.activeElement?.getAttribute("name");
  const status = h(
    "p",
    { class: "print-status" },
    isTooMany
      ? words.t("print.tooMany", { count })
      : `1:${layout.scale} · ${words.t("print.sheets", { count })}`,
  );
  const button = h(
    "button",
    { type: "button", class: "button main", disabled: isTooMany },
    words.t("print.make"),
  );
  button.addEventListener("click", () => {
    makeSheets(app, paperElement(), layoutFor(app, store.state));
    print();
  });
  fill(
    root,
    choose(
      words.t("print.paper"),
      "paper",
      PRINT_PAPERS.flatMap((paper) =>
        [false, true].map((isLying): [string, string] => [
          `${paper} ${isLying}`,
          `${paper} ${words.t(isLying ? "print.lying" : "print.upright")}`,
        ]),
      ),
      `${state.paper} ${state.isLying}`,
      (value) => {
        const [paper, isLying] = value.split(" ") as [PrintPaper, string];
        store.set({ paper, isLying: isLying === "true" });
      },
    ),
    choose(
      words.t("print.scale"),
      "print-scale",
      [
        ["", words.t("print.fits")],
        ...SCALES.map((scale): [string, string] => [String(scale), `1:${scale}`]),
      ],
      String(state.scale ?? ""),
      (value) => store.set({ scale: value === "" ? undefined : Number(value) }),
    ),
    choose(
      words.t("print.what"),
      "print-what",
      [
        ["whole", words.t("print.whole")],
        ["seen", words.t("print.seen")],
      ],
      state.what,
      (value) => store.set({ what: value as PrintState["what"] }),
    ),
    status,
    button,
    h("p", { class: "note" }, words.t("print.hint")),
  );
  // Drawn anew by a choice: the reader's place stays where it was.
  if (focused) root.querySelector<HTMLElement>(`[name="${focused}"]`)?.focus();
}
