/** Saving site file, plan and page. */

import { append, h } from "../dom.ts";
import type { App } from "../part.ts";
import { button } from "./fields.ts";
import { saveFile, savePage } from "./save.ts";

export function save(root: HTMLElement, app: App): void {
  const { words } = app.store.state;
  append(
    root,
    h("h2", {}, words.t("edit.save")),
    h("p", { class: "note" }, words.t("edit.saveHelp")),
    h(
      "div",
      { class: "row" },
      button("save-site", words.t("edit.saveSite"), () => void saveFile(app, "site"), {
        main: true,
      }),
      button("save-plan", words.t("edit.savePlan"), () => void saveFile(app, "plan.geojson")),
      button("save-summary", words.t("edit.saveSummary"), () => void saveFile(app, "summary.json")),
      button("save-page", words.t("edit.savePage"), () => void savePage(app)),
    ),
  );
}
