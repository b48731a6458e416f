/** The corner, peg or edge that is meant by a place near it. */
import { containsExtent } from "ol/extent.js";
import type Feature from "ol/Feature.js";
import LineString from "ol/geom/LineString.js";
import MultiPolygon from "ol/geom/MultiPolygon.js";
import Point from "ol/geom/Point.js";
import type { PointM } from "../../../model/geometry.ts";
import type { LayerName } from "./layer-names.ts";
import type { MapView } from "./map-view.ts";

/** Layers whose corners are meant. */
const LAYERS: readonly LayerName[] = [
  "pegs",
  "wire",
  "things",
  "lawn",
  "edges",
  "stations",
  "points",
];

/**
 * @param reachM how far off it may lie, metres
 * @returns the nearest corner or point within reach; else the nearest place on a line; else the place
 */
export function snapped(map: MapView, at: PointM, reachM: number): PointM {
  const [e, n] = at;
  const box = [e - reachM, n - reachM, e + reachM, n + reachM];
  let corner: PointM | undefined;
  let cornerM = reachM;
  let edge: PointM | undefined;
  let edgeM = reachM;
  for (const name of LAYERS) {
    map.sources.get(name)?.forEachFeatureInExtent(box, (feature) => {
      for (const [x, y] of verticesOf(feature)) {
        const distance = Math.hypot(x - e, y - n);
        if (distance < cornerM) [corner, cornerM] = [[x, y], distance];
      }
      const near = feature.getGeometry()?.getClosestPoint([e, n]) as [number, number] | undefined;
      if (!near || !containsExtent(box, [near[0], near[1], near[0], near[1]])) return;
      const distance = Math.hypot(near[0] - e, near[1] - n);
      // Inside an area the nearest place of it is the place itself: that is no edge.
      if (distance > 1e-9 && distance < edgeM) [edge, edgeM] = [near, distance];
    });
  }
  return corner ?? edge ?? at;
}

function verticesOf(feature: Feature): readonly (readonly [number, number])[] {
  const geometry = feature.getGeometry();
  if (geometry instanceof Point) return [geometry.getCoordinates() as [number, number]];
  const isShape = geometry instanceof LineString || geometry instanceof MultiPolygon;
  if (!isShape) return [];
  const flat = geometry.getFlatCoordinates();
  return Array.from({ length: flat.length / 2 }, (_, i) => [flat[2 * i]!, flat[2 * i + 1]!]);
}
