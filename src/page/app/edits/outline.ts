/** The outline that is being reshaped: the selected thing's, with the corner that is taken. */
import { cornersOf, type OutlineM } from "../../edits/corners.ts";
import type { RingsM, Target } from "../../edits/edit.ts";
import type { PageShape } from "../../model/page-model.ts";
import { pairs } from "../map/features.ts";
import type { App } from "../part.ts";
import { createStore, type Store } from "../store.ts";
import { shapeOf, targetOfShape } from "./on-map.ts";
import { plannerOf } from "./planner.ts";

export interface OutlineState {
  /** As it was changed last, also while the planner is still at work on it; empty for none. */
  readonly outline: OutlineM;
  /** Number of the corner that is taken. */
  readonly corner: number | undefined;
}

const NONE: OutlineM = [];
const stores = new WeakMap<App, Store<OutlineState>>();

/** Of what is selected; it follows selection and plans. */
export function outlineOf(app: App): Store<OutlineState> {
  const known = stores.get(app);
  if (known) return known;
  const made = createStore<OutlineState>({ outline: NONE, corner: undefined });
  stores.set(app, made);
  const read = () => {
    const shape = shapeOf(app.store.state.model, app.store.state.selected);
    return shape && isReshapable(app, shape) ? areasOf(shape) : NONE;
  };
  made.set({ outline: read() });
  app.store.subscribe((state, before) => {
    if (state.selected !== before.selected) made.set({ outline: read(), corner: undefined });
    else if (state.model !== before.model && !plannerOf(app).store.state.busy) {
      const outline = read();
      const { corner } = made.state;
      const isThere = corner !== undefined && corner < cornersOf(outline).length;
      made.set({ outline, corner: isThere ? corner : undefined });
    }
  });
  return made;
}

/** Whether it has an outline of the site's that corners can be moved of. */
export function isReshapable(app: App, shape: PageShape): boolean {
  const isThing = shape.kind === "thing" || shape.kind === "run-ground";
  return isThing && shape.place.form === "area" && targetOfShape(app, shape) !== undefined;
}

function areasOf({ place }: PageShape): OutlineM {
  if (place.form !== "area") return NONE;
  return place.areas.map((rings): RingsM => rings.map((ring) => pairs(ring)));
}

/**
 * Plans what is selected with another outline.
 *
 * @param gesture edits with the same one that follow each other count as one
 * @param of what it is about, where a gesture has begun before
 */
export function reshape(app: App, outline: OutlineM, gesture?: object, of = reshaped(app)): void {
  const own = outlineOf(app);
  if (!of || outline === own.state.outline) return;
  own.set({ outline });
  plannerOf(app).do({ edit: "redraw", of, shape: { form: "area", areas: outline } }, gesture);
}

/** What is selected, where it can be reshaped. */
export function reshaped(app: App): Target | undefined {
  const { model, selected } = app.store.state;
  const shape = shapeOf(model, selected);
  return shape && isReshapable(app, shape) ? targetOfShape(app, shape) : undefined;
}
