/** Distances and areas, by pointer or by keyboard: Enter sets a point at the middle of the map. */
import Feature from "ol/Feature.js";
import LineString from "ol/geom/LineString.js";
import Point from "ol/geom/Point.js";
import Polygon from "ol/geom/Polygon.js";
import VectorLayer from "ol/layer/Vector.js";
import type MapBrowserEvent from "ol/MapBrowserEvent.js";
import VectorSource from "ol/source/Vector.js";
import CircleStyle from "ol/style/Circle.js";
import Fill from "ol/style/Fill.js";
import Stroke from "ol/style/Stroke.js";
import Style from "ol/style/Style.js";
import { lineLengthM, signedAreaM2 } from "../../../geometry/rings.ts";
import type { PointM } from "../../../model/geometry.ts";
import { h } from "../dom.ts";
import { ICONS } from "../icons.ts";
import { withOpacity } from "../map/hatch.ts";
import { snapped } from "../map/snap.ts";
import type { App, Tool } from "../part.ts";

/** A corner or edge within so many pixels is meant. */
const SNAP_PX = 9;

export const distanceTool: Tool = {
  id: "distance",
  label: "tool.distance",
  icon: ICONS.distance,
  order: 20,
  take: (app) => measure(app, false),
};

export const areaTool: Tool = {
  id: "area",
  label: "tool.area",
  icon: ICONS.area,
  order: 21,
  take: (app) => measure(app, true),
};

function measure(app: App, isArea: boolean): () => void {
  const { map, store } = app;
  const source = new VectorSource();
  const layer = new VectorLayer({ source, style: (feature) => styleOf(feature as Feature, app) });
  const removeLayer = map.addLayer(layer);
  let points: PointM[] = [];
  let hover: PointM | undefined;

  const snap = (at: PointM): PointM => snapped(map, at, SNAP_PX * (map.view.getResolution() ?? 1));
  const figures = (line: readonly PointM[]) => {
    const flat = Float64Array.from(line.flat());
    const { length, area } = store.state.words.measures;
    const first = line[0];
    const closed = Float64Array.from([...flat, ...(first ?? [])]);
    if (!isArea) return { main: length(lineLengthM(flat)), more: lastSpan(line, length) };
    return {
      main: area(Math.abs(signedAreaM2(flat))),
      more: store.state.words.t("measure.round", { length: length(lineLengthM(closed)) }),
    };
  };
  const draw = () => {
    const { words } = store.state;
    const line = hover ? [...points, hover] : points;
    source.clear(true);
    const add = (geometry: Point | LineString | Polygon, is: string) =>
      source.addFeature(new Feature({ geometry, is }));
    const flat = line.map((one) => [...one]);
    if (isArea && line.length > 2) add(new Polygon([[...flat, flat[0]!]]), "area");
    else if (line.length > 1) add(new LineString(flat), "line");
    for (const one of flat) add(new Point(one), "point");
    const { main, more } = figures(line);
    app.hint(
      h("strong", { class: "figure" }, line.length > 1 ? main : words.t("measure.begin")),
      line.length > 1 && more !== "" && h("span", {}, more),
      h("span", { class: "keys" }, words.t("measure.keys")),
    );
  };
  const put = (at: PointM) => {
    points.push(at);
    hover = undefined;
    draw();
    if (points.length > 1) {
      const { main, more } = figures(points);
      app.announce(`${main}. ${more}`);
    }
  };
  const click = (event: MapBrowserEvent) => put(snap(event.coordinate as [number, number]));
  const move = (event: MapBrowserEvent) => {
    const { pointerType } = event.originalEvent as PointerEvent;
    if (event.dragging || pointerType === "touch" || points.length === 0) return;
    hover = snap(event.coordinate as [number, number]);
    draw();
  };
  const press = (event: KeyboardEvent) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    if (event.key === "Enter") put(snap(map.middle()));
    else if (event.key === "Backspace" || event.key === "Delete") {
      points.pop();
      hover = undefined;
      draw();
    } else if (event.key === "Escape") {
      if (points.length === 0) return store.set({ tool: undefined });
      points = [];
      hover = undefined;
      draw();
    } else return;
    event.preventDefault();
  };
  const target = map.element;
  map.ol.on("click", click);
  map.ol.on("pointermove", move);
  target.addEventListener("keydown", press);
  draw();
  return () => {
    map.ol.un("click", click);
    map.ol.un("pointermove", move);
    target.removeEventListener("keydown", press);
    removeLayer();
    app.hint();
  };
}

function lastSpan(line: readonly PointM[], length: (m: number) => string): string {
  const [a, b] = line.slice(-2);
  return a && b && line.length > 2 ? `+ ${length(Math.hypot(b[0] - a[0], b[1] - a[1]))}` : "";
}

function styleOf(feature: Feature, { map: { look } }: App): Style[] {
  const is = feature.get("is");
  if (is === "point") {
    return [
      new Style({
        image: new CircleStyle({
          radius: 4.5,
          fill: new Fill({ color: look.ground }),
          stroke: new Stroke({ color: look.ink, width: 2 }),
        }),
        zIndex: 2,
      }),
    ];
  }
  return [
    new Style({
      stroke: new Stroke({ color: look.halo, width: 5 }),
      ...(is === "area" && { fill: new Fill({ color: withOpacity(look.ink, 0.12) }) }),
    }),
    new Style({ stroke: new Stroke({ color: look.ink, width: 2, lineDash: [8, 4] }), zIndex: 1 }),
  ];
}
