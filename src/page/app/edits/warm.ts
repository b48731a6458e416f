/** The planner plans once on the quiet, so that the first change is planned by code that is warm. */
import type { App } from "../part.ts";
import { canPlan, plannerOf } from "./planner.ts";

/** Without a way to hear of idleness: so long after the first paint, milliseconds. */
const LATER_MS = 1000;

/**
 * Starts the planner once the page has been painted and has nothing else to do. What needs the
 * planner before starts it at once; then there is nothing left to do here.
 */
export function warmPlanner(app: App): void {
  const start = () => {
    if (canPlan(app)) void plannerOf(app).start();
  };
  // The second frame begins when the first has been painted.
  requestAnimationFrame(() =>
    requestAnimationFrame(() => {
      if ("requestIdleCallback" in globalThis) requestIdleCallback(start);
      else setTimeout(start, LATER_MS);
    }),
  );
}
