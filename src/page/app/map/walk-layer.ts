/** The walk on the map: wire that is laid, the span that comes next, the peg where one stands. */
import Feature from "ol/Feature.js";
import LineString from "ol/geom/LineString.js";
import Point from "ol/geom/Point.js";
import VectorLayer from "ol/layer/Vector.js";
import VectorSource from "ol/source/Vector.js";
import CircleStyle from "ol/style/Circle.js";
import Fill from "ol/style/Fill.js";
import Stroke from "ol/style/Stroke.js";
import Style from "ol/style/Style.js";
import type { Walk } from "../../model/page-model.ts";
import type { App } from "../part.ts";

export interface WalkLayer {
  draw(walk: Walk | undefined, stop: number): void;
  setShown(isShown: boolean): void;
  remove(): void;
}

export function walkLayer(app: App): WalkLayer {
  const source = new VectorSource();
  const layer = new VectorLayer({
    source,
    style: (feature) => styleOf(String(feature.get("is")), app),
  });
  const remove = app.map.addLayer(layer, "points");
  return {
    draw(walk, stop) {
      source.clear(true);
      const here = walk?.stops[stop];
      if (!walk || !here) return;
      const point = (at: readonly [number, number]) => [...at];
      const laid = walk.stops.slice(0, stop + 1).map(({ at }) => point(at));
      const next = walk.stops[stop + 1];
      const add = (is: string, geometry: LineString | Point) =>
        source.addFeature(new Feature({ geometry, is }));
      if (laid.length > 1) add("laid", new LineString(laid));
      if (next) add("next", new LineString([point(here.at), point(next.at)]));
      add("here", new Point(point(here.at)));
    },
    setShown: (isShown) => layer.setVisible(isShown),
    remove,
  };
}

function styleOf(is: string, app: App): Style[] {
  const { look } = app.map;
  if (is === "here") {
    return [
      new Style({
        image: new CircleStyle({
          radius: 10,
          fill: new Fill({ color: look.selected }),
          stroke: new Stroke({ color: look.ink, width: 2.5 }),
        }),
        zIndex: 3,
      }),
    ];
  }
  if (is === "next") {
    return [
      new Style({ stroke: new Stroke({ color: look.ink, width: 7, lineCap: "butt" }), zIndex: 1 }),
      new Style({
        stroke: new Stroke({ color: look.selected, width: 4, lineCap: "butt" }),
        zIndex: 2,
      }),
    ];
  }
  return [new Style({ stroke: new Stroke({ color: look.ink, width: 4.5 }) })];
}
