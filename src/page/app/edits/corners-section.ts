/** The corners of what is selected, for keys and numbers. */
import { cornersOf } from "../../edits/corners.ts";
import { h } from "../dom.ts";
import type { App } from "../part.ts";
import { button, number } from "./fields.ts";
import { outlineOf } from "./outline.ts";
import { addCorner, cornerText, moveCorner, removeCorner, stepCorner } from "./reshape.ts";

const millimetres = (metres: number) => Math.round(1000 * metres) / 1000;

export function corners(app: App): HTMLElement {
  const { words, tool } = app.store.state;
  const { outline, corner } = outlineOf(app).state;
  const at = corner === undefined ? undefined : cornersOf(outline)[corner];
  const disabled = at === undefined;
  const begin = button("reshape", words.t("edit.reshape"), () =>
    app.store.set({ tool: "reshape" }),
  );
  begin.classList.add("wide");
  return h(
    "fieldset",
    { class: "pair corners" },
    h("legend", {}, words.t("edit.shape")),
    tool !== "reshape" && begin,
    h("p", { class: "note edit-corner" }, cornerText(app)),
    button("previous-corner", words.t("edit.previousCorner"), () => stepCorner(app, -1)),
    button("next-corner", words.t("edit.nextCorner"), () => stepCorner(app, 1)),
    at &&
      number("corner-east", words.t("edit.cornerEast"), millimetres(at[0]), (e) =>
        moveCorner(app, [(e ?? at[0]) - at[0], 0]),
      ),
    at &&
      number("corner-north", words.t("edit.cornerNorth"), millimetres(at[1]), (n) =>
        moveCorner(app, [0, (n ?? at[1]) - at[1]]),
      ),
    button("add-corner", words.t("edit.addCorner"), () => addCorner(app), { disabled }),
    button("remove-corner", words.t("edit.removeCorner"), () => removeCorner(app), { disabled }),
  );
}
