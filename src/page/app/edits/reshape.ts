/** Reshaping an outline by its corners: dragged, or stepped through and moved by keys. */

import { never } from "ol/events/condition.js";
import Feature from "ol/Feature.js";
import MultiPoint from "ol/geom/MultiPoint.js";
import MultiPolygon from "ol/geom/MultiPolygon.js";
import Point from "ol/geom/Point.js";
import Modify from "ol/interaction/Modify.js";
import VectorLayer from "ol/layer/Vector.js";
import type MapBrowserEvent from "ol/MapBrowserEvent.js";
import VectorSource from "ol/source/Vector.js";
import CircleStyle from "ol/style/Circle.js";
import Fill from "ol/style/Fill.js";
import Stroke from "ol/style/Stroke.js";
import Style from "ol/style/Style.js";
import type { PointM } from "../../../model/geometry.ts";
import {
  cornersOf,
  nearestCorner,
  type OutlineM,
  withCornerAfter,
  withCornerAt,
  withoutCorner,
} from "../../edits/corners.ts";
import type { App, Tool } from "../part.ts";
import { EDIT_ICONS } from "./icons.ts";
import { ARROWS, STEP_M, WIDE_STEP_M } from "./move.ts";
import { shapeOf } from "./on-map.ts";
import { isReshapable, outlineOf, reshape, reshaped } from "./outline.ts";
import { canPlan, plannerOf } from "./planner.ts";

const FINGER_PX = 14;

export const reshapeTool: Tool = {
  id: "reshape",
  label: "tool.reshape",
  icon: EDIT_ICONS.reshape,
  order: 42,
  isThere: canPlan,
  take(app) {
    void plannerOf(app).start();
    app.open("edit");
    app.announce(app.store.state.words.t("edit.reshapeHelp"));
    const ends = [dragging(app), tapping(app), keys(app)];
    return () => {
      for (const end of ends) end();
      outlineOf(app).set({ corner: undefined });
    };
  },
};

/** Takes the next corner, or the one before. */
export function stepCorner(app: App, by: 1 | -1): void {
  const own = outlineOf(app);
  const corners = cornersOf(own.state.outline);
  if (corners.length === 0) return;
  const from = own.state.corner ?? (by > 0 ? -1 : 0);
  const corner = (from + by + corners.length) % corners.length;
  own.set({ corner });
  app.announce(cornerText(app));
}

/** What is said of the corner that is taken. */
export function cornerText(app: App): string {
  const { words } = app.store.state;
  const { outline, corner } = outlineOf(app).state;
  const count = cornersOf(outline).length;
  if (corner === undefined) return words.t("edit.corners", { count });
  return words.t("edit.corner", { number: corner + 1, count });
}

/** Puts one more corner after the one that is taken, and takes it. */
export function addCorner(app: App): void {
  const { outline, corner } = outlineOf(app).state;
  if (corner === undefined) return;
  reshape(app, withCornerAfter(outline, corner));
  outlineOf(app).set({ corner: corner + 1 });
}

/** Takes the corner out. */
export function removeCorner(app: App): void {
  const { outline, corner } = outlineOf(app).state;
  if (corner === undefined) return;
  const left = withoutCorner(outline, corner);
  const count = cornersOf(left).length;
  if (count === cornersOf(outline).length) return;
  reshape(app, left);
  outlineOf(app).set({ corner: Math.min(corner, count - 1) });
}

/** Moves the corner that is taken. */
export function moveCorner(app: App, by: PointM): void {
  const { outline, corner } = outlineOf(app).state;
  const at = corner === undefined ? undefined : cornersOf(outline)[corner];
  if (!at) return;
  reshape(app, withCornerAt(outline, corner!, [at[0] + by[0], at[1] + by[1]]));
}

function keys(app: App): () => void {
  const actions: Readonly<Record<string, () => void>> = {
    ",": () => stepCorner(app, -1),
    ".": () => stepCorner(app, 1),
    Insert: () => addCorner(app),
    Delete: () => removeCorner(app),
    Backspace: () => removeCorner(app),
  };
  const onKey = (event: KeyboardEvent) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    if (!app.map.ol.getTargetElement()?.contains(event.target as Node)) return;
    const { outline, corner } = outlineOf(app).state;
    if (outline.length === 0) return;
    const arrow = corner === undefined ? undefined : ARROWS[event.key];
    const step = event.shiftKey ? WIDE_STEP_M : STEP_M;
    const action = arrow
      ? () => moveCorner(app, [arrow[0] * step, arrow[1] * step])
      : actions[event.key];
    if (!action) return;
    event.preventDefault();
    event.stopPropagation();
    action();
  };
  document.addEventListener("keydown", onKey, true);
  return () => document.removeEventListener("keydown", onKey, true);
}

/** A tap takes a corner of what is selected, or selects what else lies there. */
function tapping(app: App): () => void {
  const onTap = ({ pixel, coordinate: [e = 0, n = 0] }: MapBrowserEvent) => {
    const own = outlineOf(app);
    const corner = nearestCorner(own.state.outline, [e, n]);
    const at = cornersOf(own.state.outline)[corner];
    const reachM = FINGER_PX * (app.map.view.getResolution() ?? 1);
    if (at && Math.hypot(at[0] - e, at[1] - n) <= reachM) {
      own.set({ corner });
      return;
    }
    const id = app.map.idsAt(pixel, FINGER_PX).find((one) => {
      const shape = shapeOf(app.store.state.model, one);
      return shape && isReshapable(app, shape);
    });
    if (id !== undefined) app.select(id);
  };
  app.map.ol.on("singleclick", onTap);
  return () => app.map.ol.un("singleclick", onTap);
}

/** The outline with its corners over the map; they are dragged, and edges give new ones. */
function dragging(app: App): () => void {
  const own = outlineOf(app);
  const source = new VectorSource();
  const layer = new VectorLayer({ source, style: (feature) => styleOf(app, feature as Feature) });
  const removeLayer = app.map.addLayer(layer);
  const outlineFeature = new Feature<MultiPolygon>();
  const cornerFeature = new Feature<Point>();
  const modify = new Modify({
    source: new VectorSource({ features: [outlineFeature] }),
    pixelTolerance: FINGER_PX,
    deleteCondition: never,
    style: (feature) => styleOf(app, feature as Feature),
  });
  let held: { gesture: object; of: ReturnType<typeof reshaped> } | undefined;
  const show = () => {
    if (held) return;
    const { outline, corner } = own.state;
    source.clear(true);
    outlineFeature.setGeometry(outline.length === 0 ? undefined : multiPolygonOf(outline));
    if (outline.length === 0) return;
    source.addFeature(outlineFeature);
    const at = corner === undefined ? undefined : cornersOf(outline)[corner];
    cornerFeature.setGeometry(at && new Point([...at]));
    if (at) source.addFeature(cornerFeature);
  };
  const take = () => {
    const geometry = outlineFeature.getGeometry();
    if (held && geometry) reshape(app, outlineIn(geometry), held.gesture, held.of);
  };
  modify.on("modifystart", () => {
    // First of all: what is shown now is the interaction's, until it ends.
    held = { gesture: {}, of: reshaped(app) };
    if (source.hasFeature(cornerFeature)) source.removeFeature(cornerFeature);
    own.set({ corner: undefined });
  });
  const onDrag = () => {
    if (held) take();
  };
  app.map.ol.on("pointerdrag", onDrag);
  modify.on("modifyend", ({ mapBrowserEvent }) => {
    take();
    held = undefined;
    const [e = 0, n = 0] = mapBrowserEvent?.coordinate ?? [];
    const corner = nearestCorner(own.state.outline, [e, n]);
    own.set({ corner: corner < 0 ? undefined : corner });
    show();
  });
  app.map.ol.addInteraction(modify);
  show();
  const end = own.subscribe(show);
  return () => {
    end();
    app.map.ol.un("pointerdrag", onDrag);
    app.map.ol.removeInteraction(modify);
    removeLayer();
  };
}

const multiPolygonOf = (outline: OutlineM) =>
  new MultiPolygon(
    outline.map((rings) => rings.map((ring) => [...ring, ring[0]!].map((one) => [...one]))),
  );

function outlineIn(geometry: MultiPolygon): OutlineM {
  return geometry
    .getCoordinates()
    .map((rings) => rings.map((ring) => ring.slice(0, -1).map(([e = 0, n = 0]): PointM => [e, n])));
}

function styleOf({ map }: App, feature: Feature): Style[] {
  const { selected, halo } = map.look;
  const dot = (radius: number, fill: string) =>
    new CircleStyle({
      radius,
      fill: new Fill({ color: fill }),
      stroke: new Stroke({ color: selected, width: 2 }),
    });
  const geometry = feature.getGeometry();
  if (!(geometry instanceof MultiPolygon)) return [new Style({ image: dot(8, selected) })];
  const corners = cornersOf(outlineIn(geometry)).map((one) => [...one]);
  return [
    new Style({ stroke: new Stroke({ color: selected, width: 2 }) }),
    new Style({ image: dot(6, halo), geometry: new MultiPoint(corners) }),
  ];
}
