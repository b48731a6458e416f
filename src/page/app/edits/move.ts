/** Moving by dragging and by arrow keys. */
import PointerInteraction from "ol/interaction/Pointer.js";
import type { PointM } from "../../../model/geometry.ts";
import type { PageShape } from "../../model/page-model.ts";
import type { App, Tool } from "../part.ts";
import { EDIT_ICONS } from "./icons.ts";
import { isMovable, moveEdit, shapeOf } from "./on-map.ts";
import { canPlan, plannerOf } from "./planner.ts";

const FINGER_PX = 14;
/** By one press of an arrow key, metres. */
export const STEP_M = 0.1;
/** With Shift, metres. */
export const WIDE_STEP_M = 1;

/** Where arrow keys lead: east, north. */
export const ARROWS: Readonly<Record<string, PointM>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, 1],
  ArrowDown: [0, -1],
};

export const moveTool: Tool = {
  id: "move",
  label: "tool.move",
  icon: EDIT_ICONS.move,
  order: 41,
  isThere: canPlan,
  take(app) {
    const planner = plannerOf(app);
    void planner.start();
    app.announce(app.store.state.words.t("edit.moveHelp"));
    const dragging = dragInteraction(app);
    app.map.ol.addInteraction(dragging);
    const onKey = (event: KeyboardEvent) => {
      const arrow = ARROWS[event.key];
      const target = app.map.ol.getTargetElement();
      if (!arrow || event.ctrlKey || event.metaKey || event.altKey) return;
      if (!target?.contains(event.target as Node)) return;
      const shape = shapeOf(app.store.state.model, app.store.state.selected);
      if (!shape || !isMovable(app, shape)) return;
      event.preventDefault();
      event.stopPropagation();
      const step = event.shiftKey ? WIDE_STEP_M : STEP_M;
      const edit = moveEdit(app, shape, [arrow[0] * step, arrow[1] * step]);
      if (edit) planner.do(edit);
    };
    document.addEventListener("keydown", onKey, true);
    return () => {
      app.map.ol.removeInteraction(dragging);
      document.removeEventListener("keydown", onKey, true);
    };
  },
};

function dragInteraction(app: App): PointerInteraction {
  let held: { shape: PageShape; from: PointM; gesture: object } | undefined;
  const at = ([e = 0, n = 0]: readonly number[]): PointM => [e, n];
  return new PointerInteraction({
    handleDownEvent: (event) => {
      const shape = movableAt(app, event.pixel);
      if (!shape) return false;
      held = { shape, from: at(event.coordinate), gesture: {} };
      app.select(shape.id);
      return true;
    },
    handleDragEvent: (event) => {
      if (!held) return;
      const [e, n] = at(event.coordinate);
      const edit = moveEdit(app, held.shape, [e - held.from[0], n - held.from[1]]);
      if (edit) plannerOf(app).do(edit, held.gesture);
    },
    handleUpEvent: () => {
      held = undefined;
      return false;
    },
  });
}

/** What lies under a finger and can be moved; the nearest of all, or what is selected. */
function movableAt(app: App, pixel: number[]): PageShape | undefined {
  const { model } = app.store.state;
  const ids = app.map.idsAt(pixel, FINGER_PX);
  return ids.map((id) => shapeOf(model, id)).find((shape) => shape && isMovable(app, shape));
}
