/** Two maps beside each other: what one shows, and where the pointer is, the other shows too. */
import Feature from "ol/Feature.js";
import Point from "ol/geom/Point.js";
import VectorLayer from "ol/layer/Vector.js";
import type OlMap from "ol/Map.js";
import { unByKey } from "ol/Observable.js";
import VectorSource from "ol/source/Vector.js";
import RegularShape from "ol/style/RegularShape.js";
import Stroke from "ol/style/Stroke.js";
import Style from "ol/style/Style.js";
import { fill, h, name } from "../dom.ts";
import { MapView } from "../map/map-view.ts";
import type { App } from "../part.ts";
import { comparing, otherName } from "./state.ts";

export function sideBySide(app: App): void {
  let end: (() => void) | undefined;
  comparing.subscribe(({ other, view }, before) => {
    if (other === before.other && view === before.view) return;
    end?.();
    end = other && view === "side" ? begin(app) : undefined;
  });
}

/** @returns what takes the second map away */
function begin(app: App): () => void {
  const { map, store } = app;
  const own = map.ol.getTargetElement()!;
  const stage = own.parentElement!;
  const element = h("div", { class: "second", role: "img" });
  const here = h("p", { class: "map-name here", "aria-hidden": "true" });
  const there = h("p", { class: "map-name there", "aria-hidden": "true" });
  stage.classList.add("split");
  stage.append(element, here, there);
  const { other } = comparing.state;
  const second = new MapView(element, other!.model, map.look);
  second.ol.setView(map.view);
  if (app.data.picture) second.setPicture(() => map.pictureLayer("picture")!);
  second.setLayers(store.state.layers);
  const draw = () => {
    const { words } = store.state;
    second.setModel(comparing.state.other!.model, words);
    fill(here, words.t("compare.thisPlan"));
    fill(there, name(otherName(store.state)));
    element.setAttribute("aria-label", words.t("compare.with", { name: otherName(store.state) }));
  };
  draw();
  const resize = new ResizeObserver(() => second.ol.updateSize());
  resize.observe(element);
  map.ol.updateSize();
  second.ol.updateSize();
  map.showAll(false);
  const unlink = [pointAlso(map.ol, second.ol, map), pointAlso(second.ol, map.ol, map)];
  const unsubscribe = store.subscribe((state, before) => {
    if (state.words !== before.words) draw();
    if (state.layers !== before.layers) second.setLayers(state.layers);
    if (second.look !== map.look) second.setLook(map.look);
  });
  return () => {
    unsubscribe();
    for (const one of unlink) one();
    resize.disconnect();
    // The view is the first map's: it is not to go with the second.
    second.ol.setTarget(undefined);
    for (const one of [element, here, there]) one.remove();
    stage.classList.remove("split");
    map.ol.updateSize();
    map.showAll(false);
  };
}

/** A cross on one map where the pointer is on the other. */
function pointAlso(from: OlMap, to: OlMap, { look }: MapView): () => void {
  const point = new Point([0, 0]);
  const source = new VectorSource();
  const cross = (color: string, width: number) =>
    new Style({
      image: new RegularShape({
        points: 4,
        radius: 11,
        radius2: 0,
        stroke: new Stroke({ color, width }),
      }),
    });
  const layer = new VectorLayer({ source, style: [cross(look.halo, 4), cross(look.ink, 1.6)] });
  to.addLayer(layer);
  const feature = new Feature(point);
  const moved = from.on("pointermove", ({ coordinate }) => {
    point.setCoordinates(coordinate);
    if (source.isEmpty()) source.addFeature(feature);
  });
  const leave = () => source.clear();
  const viewport = from.getTargetElement();
  viewport?.addEventListener("pointerleave", leave);
  return () => {
    unByKey(moved);
    viewport?.removeEventListener("pointerleave", leave);
    to.removeLayer(layer);
  };
}
