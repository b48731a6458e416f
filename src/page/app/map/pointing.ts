/** Hover, tap and keys on the map: what lies there, and stepping through what there is. */
import type MapBrowserEvent from "ol/MapBrowserEvent.js";
import { describe, stepsOf } from "../describe.ts";
import { fill, h, name } from "../dom.ts";
import type { Frame } from "../frame/frame.ts";
import type { App } from "../part.ts";

const MOUSE_PX = 5;
const FINGER_PX = 14;
/** Figures shown beside the pointer. */
const TIP_FIGURES = 3;

export function pointing(app: App, frame: Frame): void {
  const { map, store } = app;
  map.ol.on("pointermove", (event: MapBrowserEvent) => {
    if (event.dragging || store.state.tool !== undefined) return hover(undefined);
    const pointer = event.originalEvent as PointerEvent;
    if (pointer.pointerType === "touch") return;
    hover(map.idAt(event.pixel, MOUSE_PX), event.pixel);
  });
  frame.map.addEventListener("pointerleave", () => hover(undefined));
  map.ol.on("singleclick", (event: MapBrowserEvent) => {
    if (store.state.tool !== undefined) return;
    const { pointerType } = event.originalEvent as PointerEvent;
    app.select(map.idAt(event.pixel, pointerType === "touch" ? FINGER_PX : MOUSE_PX));
  });
  frame.map.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const action = KEYS[event.key];
    if (!action || (store.state.tool !== undefined && !ALWAYS.has(event.key))) return;
    event.preventDefault();
    action(app);
  });

  function hover(id: string | undefined, pixel?: readonly number[]): void {
    frame.map.classList.toggle("over", id !== undefined);
    store.set({ hovered: id });
    const what = id === undefined ? undefined : describe(id, store.state);
    frame.tip.hidden = what === undefined;
    if (!what || !pixel) return;
    const figures = what.figures.slice(0, TIP_FIGURES);
    fill(
      frame.tip,
      h("strong", {}, what.kind, " ", name(what.name)),
      ...figures.map(({ label, value }) => h("span", {}, `${label}: `, name(value))),
    );
    const [x, y] = pixel as [number, number];
    const { clientWidth, clientHeight } = frame.map;
    const left = x + 16 + frame.tip.offsetWidth > clientWidth;
    const up = y + 16 + frame.tip.offsetHeight > clientHeight;
    frame.tip.style.left = `${left ? Math.max(4, x - 12 - frame.tip.offsetWidth) : x + 16}px`;
    frame.tip.style.top = `${up ? Math.max(4, y - 12 - frame.tip.offsetHeight) : y + 16}px`;
  }
}

/** Keys that work whatever tool is in hand. */
const ALWAYS = new Set(["0", "n", "b"]);

const KEYS: Readonly<Record<string, (app: App) => void>> = {
  "0": ({ map }) => map.showAll(),
  n: (app) => step(app, 1),
  b: (app) => step(app, -1),
  Enter: (app) => {
    const size = app.map.ol.getSize() ?? [0, 0];
    app.select(app.map.idAt([size[0]! / 2, size[1]! / 2], FINGER_PX));
  },
  Escape: (app) => app.select(undefined),
};

function step(app: App, by: number): void {
  const ids = stepsOf(app.store.state.model);
  if (ids.length === 0) return;
  const { selected } = app.store.state;
  const at = selected === undefined ? -1 : ids.indexOf(selected);
  const next = at < 0 ? (by > 0 ? 0 : ids.length - 1) : (at + by + ids.length) % ids.length;
  app.select(ids[next]!, { show: true });
}
