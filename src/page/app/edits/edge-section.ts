/** The stretch of edge that is taken, its kind and set-in. */

import { EDGE_KINDS, type EdgeKind } from "../../../model/roles.ts";
import type { Edit } from "../../edits/edit.ts";
import { h } from "../dom.ts";
import type { App } from "../part.ts";
import { button, choice, number, refill } from "./fields.ts";
import { plannerOf } from "./planner.ts";
import { editingOf, stretchesOf } from "./state.ts";

export function edge(root: HTMLElement, app: App): void {
  const { words } = app.store.state;
  const editing = editingOf(app);
  const stretches = stretchesOf(app);
  const { stretch: taken } = editing.state;
  const one = taken === undefined ? undefined : stretches[taken];
  const step = (by: number) => {
    const count = stretches.length;
    if (count === 0) return;
    const from = taken ?? (by > 0 ? -1 : 0);
    editing.set({ stretch: (from + by + count) % count });
  };
  const kinds = EDGE_KINDS.map((kind): [string, string] => [kind, words.t(`edge.${kind}`)]);
  let kind: EdgeKind = "open";
  let setinM: number | null = null;
  const apply = () => {
    if (!one) return;
    const edit: Edit = { edit: "edge", line: one.line, kind };
    plannerOf(app).do(setinM === null ? edit : { ...edit, setinM });
  };
  const text = one
    ? words.t("edit.stretch", {
        number: taken! + 1,
        count: stretches.length,
        length: words.figure({ lengthM: one.lengthM }),
      })
    : words.t("edit.noStretch");
  refill(
    root,
    h("h2", {}, words.t("edit.edges")),
    h("p", { class: "edit-stretch", "aria-live": "polite" }, text),
    h(
      "div",
      { class: "row" },
      button("previous-stretch", words.t("edit.previous"), () => step(-1)),
      button("next-stretch", words.t("edit.next"), () => step(1)),
    ),
    choice("edge-kind", words.t("edit.kind"), kinds, kind, (value) => {
      kind = value as EdgeKind;
    }),
    number(
      "edge-setin",
      words.t("edit.setin"),
      undefined,
      (value) => {
        setinM = value;
      },
      { min: 0, max: 10 },
    ),
    button("edge-apply", words.t("edit.apply"), apply, { disabled: !one, main: true }),
  );
}
