/** Files that are let fall anywhere on the page. */
import { fill, h } from "../dom.ts";
import type { App } from "../part.ts";
import { takeFiles } from "./state.ts";

export function takeDrops(app: App): void {
  const over = h("div", { class: "drop-over", hidden: true, "aria-hidden": "true" });
  document.body.append(over);
  const hasFiles = (event: DragEvent) => event.dataTransfer?.types.includes("Files") === true;
  document.addEventListener("dragover", (event) => {
    if (!hasFiles(event)) return;
    event.preventDefault();
    event.dataTransfer!.dropEffect = "copy";
    if (over.hidden) fill(over, h("p", {}, app.store.state.words.t("import.drop")));
    over.hidden = false;
  });
  document.addEventListener("dragleave", (event) => {
    // Out of the window, not from one element to the next.
    if (event.relatedTarget === null) over.hidden = true;
  });
  document.addEventListener("drop", (event) => {
    if (!hasFiles(event)) return;
    // The browser would leave the page and open the file.
    event.preventDefault();
    over.hidden = true;
    void takeFiles(app, [...event.dataTransfer!.files]);
  });
}
