/** Where the device is, by its receiver, with the circle in which it says it is. */
import Feature from "ol/Feature.js";
import Circle from "ol/geom/Circle.js";
import Point from "ol/geom/Point.js";
import VectorLayer from "ol/layer/Vector.js";
import VectorSource from "ol/source/Vector.js";
import CircleStyle from "ol/style/Circle.js";
import Fill from "ol/style/Fill.js";
import Stroke from "ol/style/Stroke.js";
import Style from "ol/style/Style.js";
import type { PointM } from "../../../model/geometry.ts";
import type { WordKey } from "../../words/catalogue.ts";
import { h } from "../dom.ts";
import { ICONS } from "../icons.ts";
import { withOpacity } from "../map/hatch.ts";
import type { App, Tool } from "../part.ts";
import { createStore } from "../store.ts";

/** Farther from the plan than this the map does not follow, metres. */
const NEAR_M = 2000;

const watch = createStore<{ readonly isOn: boolean }>({ isOn: false });
let stop: (() => void) | undefined;

export const positionTool: Tool = {
  id: "position",
  label: "tool.position",
  icon: ICONS.position,
  order: 30,
  switch: watch,
  press: (app) => {
    if (watch.state.isOn) end();
    else begin(app);
  },
};

function end(): void {
  stop?.();
  stop = undefined;
  watch.set({ isOn: false });
}

function begin(app: App): void {
  const { words } = app.store.state;
  if (!("geolocation" in navigator)) {
    say(app, words.t("position.none"));
    return;
  }
  const source = new VectorSource();
  const layer = new VectorLayer({ source, style: (feature) => styleOf(feature as Feature, app) });
  const removeLayer = app.map.addLayer(layer);
  let isFirst = true;
  app.hint(h("span", {}, words.t("position.waiting")));
  const id = navigator.geolocation.watchPosition(
    ({ coords }) => {
      const at = app.map.fromLonLat([coords.longitude, coords.latitude]);
      source.clear(true);
      source.addFeature(
        new Feature({ geometry: new Circle([...at], coords.accuracy), is: "circle" }),
      );
      source.addFeature(new Feature({ geometry: new Point([...at]), is: "point" }));
      tell(app, at, coords.accuracy, isFirst);
      isFirst = false;
    },
    ({ code }) => {
      const key = (
        ["position.failed", "position.denied", "position.failed", "position.late"] as const
      )[code];
      say(app, app.store.state.words.t(key ?? "position.failed"));
      if (code === 1) end();
    },
    { enableHighAccuracy: true, maximumAge: 1000, timeout: 30_000 },
  );
  stop = () => {
    navigator.geolocation.clearWatch(id);
    removeLayer();
    app.hint();
  };
  watch.set({ isOn: true });
}

function say(app: App, text: string): void {
  app.hint(h("span", {}, text));
  app.announce(text);
}

function tell(app: App, at: PointM, accuracyM: number, isFirst: boolean): void {
  const { words } = app.store.state;
  const { length } = words.measures;
  const awayM = beyond(at, app);
  const key: WordKey = awayM > NEAR_M ? "position.far" : "position.here";
  const text = words.t(key, {
    accuracy: length(accuracyM),
    distance: length(awayM),
    east: length(at[0]),
    north: length(at[1]),
  });
  app.hint(h("span", {}, text), h("span", { class: "keys" }, words.t("position.mind")));
  if (!isFirst) return;
  app.announce(text);
  if (awayM <= NEAR_M) app.map.centreOn(at);
}

/** How far off the plan's extent a place lies, metres. */
function beyond([e, n]: PointM, { store }: App): number {
  const [west, south, east, north] = store.state.model.extent;
  return Math.hypot(Math.max(west - e, 0, e - east), Math.max(south - n, 0, n - north));
}

function styleOf(feature: Feature, { map: { look } }: App): Style {
  if (feature.get("is") === "circle") {
    return new Style({
      fill: new Fill({ color: withOpacity(look.ink, 0.08) }),
      stroke: new Stroke({ color: look.ink, width: 1.5, lineDash: [4, 4] }),
    });
  }
  return new Style({
    image: new CircleStyle({
      radius: 7,
      fill: new Fill({ color: look.selected }),
      stroke: new Stroke({ color: look.ink, width: 2.5 }),
    }),
  });
}
