/** What is compared, and how it is shown. */
import type { Problem } from "../../../model/finding.ts";
import { readOther, type TextFile } from "../../html/read-other.ts";
import { comparePlans, type PlanComparison } from "../../model/compare-plans.ts";
import type { OtherPlan } from "../../model/page-data.ts";
import { placedAt } from "../../model/place-model.ts";
import type { App } from "../part.ts";
import { createStore } from "../store.ts";

export type CompareView = "over" | "side" | "off";

export interface CompareState {
  /** In the grid of the plan that is shown. */
  readonly other: OtherPlan | undefined;
  /** Whether it is the plan as it was before the changes, whose name is ours. */
  readonly isBefore: boolean;
  readonly compared: PlanComparison | undefined;
  readonly view: CompareView;
  /** Why a file could not be compared. */
  readonly problem: Problem | undefined;
}

const NOTHING: CompareState = {
  other: undefined,
  isBefore: false,
  compared: undefined,
  view: "over",
  problem: undefined,
};

export const comparing = createStore<CompareState>(NOTHING);

/** What the other plan is called, fit to be shown. */
export function otherName({ words }: App["store"]["state"]): string {
  const { other, isBefore } = comparing.state;
  return isBefore ? words.t("compare.beforeName") : (other?.name ?? "");
}

export function compareWith(app: App, other: OtherPlan, isBefore = false): void {
  const { model } = app.store.state;
  comparing.set({
    other,
    isBefore,
    compared: comparePlans(model, other.model),
    problem: undefined,
  });
}

/** Takes files that the reader has chosen or let fall. */
export function compareFiles(app: App, files: readonly TextFile[]): void {
  const read = readOther(files, app.store.state.model.grid.origin);
  if (read.ok) compareWith(app, read.value);
  else comparing.set({ problem: read.problem });
}

export function stopComparing(): void {
  comparing.set({ ...NOTHING, view: comparing.state.view });
}

/** Compares again when the plan has changed. */
export function followPlan(app: App): void {
  app.store.subscribe((state, before) => {
    const { other, isBefore } = comparing.state;
    if (state.model === before.model || !other) return;
    const { origin } = state.model.grid;
    const model = placedAt(other.model, origin);
    if (model) compareWith(app, { ...other, model }, isBefore);
    else stopComparing();
  });
  const { other } = app.data;
  const model = other && placedAt(other.model, app.data.model.grid.origin);
  if (other && model) compareWith(app, { ...other, model });
}
