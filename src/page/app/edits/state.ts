/** What the parts of editing share: what is to be drawn, which stretch of edge is taken. */
import { type EdgeStretch, edgeStretches } from "../../edits/stretches.ts";
import type { App } from "../part.ts";
import { createStore, type Store } from "../store.ts";

/** What can be drawn: a role, or ground for wire. */
export const DRAWABLE = [
  "bed",
  "tree",
  "keep-out",
  "water",
  "gravel",
  "paving",
  "building",
  "firm",
  "lawn",
  "no-wire",
] as const;
export type Drawable = (typeof DRAWABLE)[number];

/** Drawn as a point with a size. */
export const isRound = (what: Drawable) => what === "tree" || what === "firm";

export interface EditingState {
  readonly what: Drawable;
  /** Number of the stretch in `stretchesOf`; undefined for none. */
  readonly stretch: number | undefined;
}

const stores = new WeakMap<App, Store<EditingState>>();

export function editingOf(app: App): Store<EditingState> {
  const known = stores.get(app);
  if (known) return known;
  const made = createStore<EditingState>({ what: "bed", stretch: undefined });
  stores.set(app, made);
  return made;
}

/** The stretches of the lawn's edge as it is now. */
export const stretchesOf = (app: App): EdgeStretch[] => edgeStretches(app.store.state.model);
