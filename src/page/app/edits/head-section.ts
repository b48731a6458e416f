/** Undo, redo, and how far the planner is. */
import { h, name } from "../dom.ts";
import type { App } from "../part.ts";
import { button, refill } from "./fields.ts";
import { type EditState, plannerOf } from "./planner.ts";

export function head(root: HTMLElement, app: App): void {
  const planner = plannerOf(app);
  const { history, problem, fault } = planner.store.state;
  const { words } = app.store.state;
  refill(
    root,
    h(
      "div",
      { class: "row" },
      button("undo", words.t("edit.undo"), () => planner.undo(), {
        disabled: history.done.length === 0,
      }),
      button("redo", words.t("edit.redo"), () => planner.redo(), {
        disabled: history.undone.length === 0,
      }),
    ),
    h("p", { class: "note edit-state" }, stateText(app, planner.store.state)),
    problem &&
      h(
        "div",
        { class: "cautions", role: "alert", lang: "en" },
        h("p", {}, name(problem.message)),
        h("p", {}, name(problem.remedy)),
      ),
    fault !== undefined && h("p", { class: "note" }, words.t("edit.fault", { message: fault })),
  );
}

function stateText(app: App, { planner, busy, history, fault = "" }: EditState): string {
  const { words } = app.store.state;
  if (planner === "broken") return words.t("edit.noWorker", { message: fault });
  if (planner === "starting") return words.t("edit.starting");
  if (busy) return words.t("edit.busy");
  return words.t("edit.ready", { count: history.done.length });
}
