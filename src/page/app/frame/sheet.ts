/** On narrow screens the panels are a sheet at the bottom, drawn up and down by its head. */
import type { App } from "../part.ts";
import type { Frame } from "./frame.ts";

/** Share of the page's height, percent. */
const LEAST = 20;
const MOST = 90;
const FIRST = 46;
const STEP = 8;
/** Let go lower than this, the sheet folds away. */
const FOLDS_BELOW = 22;
/** A pull shorter than this is a tap, pixels. */
const PULL_PX = 6;

export function sheet(app: App, { root, head, grip }: Frame): void {
  let height = FIRST;
  const set = (percent: number) => {
    height = Math.min(MOST, Math.max(LEAST, percent));
    root.style.setProperty("--sheet-height", `${height}%`);
    grip.setAttribute("aria-valuenow", String(Math.round(height)));
  };
  head.addEventListener("pointerdown", (down) => {
    const isNarrow = getComputedStyle(grip).display !== "none";
    if (!isNarrow || (down.target as Element).closest("button")) return;
    const from = app.store.state.folded ? LEAST : height;
    let isPulled = false;
    const move = (event: PointerEvent) => {
      const pulledPx = down.clientY - event.clientY;
      if (!isPulled && Math.abs(pulledPx) < PULL_PX) return;
      isPulled = true;
      if (app.store.state.folded) app.store.set({ folded: false });
      set(from + (100 * pulledPx) / root.clientHeight);
    };
    const up = () => {
      head.removeEventListener("pointermove", move);
      head.removeEventListener("pointerup", up);
      head.removeEventListener("pointercancel", up);
      if (isPulled && height < FOLDS_BELOW) {
        set(FIRST);
        app.store.set({ folded: true });
      }
    };
    head.setPointerCapture(down.pointerId);
    head.addEventListener("pointermove", move);
    head.addEventListener("pointerup", up);
    head.addEventListener("pointercancel", up);
  });
  grip.addEventListener("keydown", (event) => {
    const to = { ArrowUp: height + STEP, ArrowDown: height - STEP, Home: LEAST, End: MOST }[
      event.key
    ];
    if (to === undefined) return;
    event.preventDefault();
    set(to);
  });
  const name = () => grip.setAttribute("aria-label", app.store.state.words.t("panel.height"));
  app.store.subscribe((state, before) => state.words !== before.words && name());
  name();
  set(FIRST);
}
