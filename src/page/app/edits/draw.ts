/** Drawing: corners tapped on the map, or a rectangle and a disc by numbers. */

import type Point from "ol/geom/Point.js";
import type Polygon from "ol/geom/Polygon.js";
import Draw from "ol/interaction/Draw.js";
import type { Pixel } from "ol/pixel.js";
import type { PointM } from "../../../model/geometry.ts";
import type { DrawnRole } from "../../../model/site-rules.ts";
import type { Edit, Shape } from "../../edits/edit.ts";
import type { App, Tool } from "../part.ts";
import { valueIn } from "./fields.ts";
import { EDIT_ICONS } from "./icons.ts";
import { canPlan, plannerOf } from "./planner.ts";
import { type Drawable, editingOf, isRound } from "./state.ts";

/** Diameter of what is tapped as a point, metres. */
const TAPPED_M = 0.3;

export const drawTool: Tool = {
  id: "draw",
  label: "tool.draw",
  icon: EDIT_ICONS.draw,
  order: 43,
  isThere: canPlan,
  take(app) {
    void plannerOf(app).start();
    app.open("edit");
    app.announce(app.store.state.words.t("edit.drawHelp"));
    const editing = editingOf(app);
    let drawing: Draw | undefined;
    const begin = () => {
      if (drawing) app.map.ol.removeInteraction(drawing);
      const { what } = editing.state;
      drawing = new Draw({ type: isRound(what) ? "Point" : "Polygon" });
      drawing.on("drawend", ({ feature }) => {
        const geometry = feature.getGeometry();
        if (!geometry) return;
        const shape: Shape = isRound(what)
          ? { form: "point", atM: pointOf((geometry as Point).getCoordinates()) }
          : { form: "area", areas: [ringsOf(geometry as Polygon)] };
        plannerOf(app).do(drawEdit(what, shape, TAPPED_M));
      });
      app.map.ol.addInteraction(drawing);
    };
    begin();
    const end = editing.subscribe(begin);
    const onKey = (event: KeyboardEvent) => {
      if (event.key === "Escape") drawing?.abortDrawing();
    };
    document.addEventListener("keydown", onKey);
    return () => {
      end();
      document.removeEventListener("keydown", onKey);
      if (drawing) app.map.ol.removeInteraction(drawing);
    };
  },
};

const pointOf = ([e = 0, n = 0]: Pixel): PointM => [e, n];

/** Rings without their first point again at the end. */
function ringsOf(polygon: Polygon): PointM[][] {
  return polygon.getCoordinates().map((ring) => ring.slice(0, -1).map(pointOf));
}

function drawEdit(what: Drawable, shape: Shape, diameterM: number): Edit {
  if (what === "no-wire") {
    const area = shape.form === "area" ? (shape.areas[0]?.[0] ?? []) : [];
    return { edit: "run-ground", area, wire: "no" };
  }
  const set = shape.form === "point" ? { set: { diameter_m: diameterM } } : {};
  return { edit: "draw", role: what satisfies DrawnRole, shape, ...set };
}

/** Draws what the fields of the panel say. */
export function drawTyped(app: App, root: HTMLElement): void {
  const { what } = editingOf(app).state;
  const [e, n] = [valueIn(root, "draw-east"), valueIn(root, "draw-north")];
  const width = valueIn(root, "draw-width");
  if (e === undefined || n === undefined || width === undefined || width <= 0) return;
  if (isRound(what)) {
    plannerOf(app).do(drawEdit(what, { form: "point", atM: [e, n] }, width));
    return;
  }
  const height = valueIn(root, "draw-height");
  if (height === undefined || height <= 0) return;
  const [w, s] = [e - width / 2, n - height / 2];
  const ring: PointM[] = [
    [w, s],
    [w + width, s],
    [w + width, s + height],
    [w, s + height],
  ];
  plannerOf(app).do(drawEdit(what, { form: "area", areas: [[ring]] }, 0));
}
