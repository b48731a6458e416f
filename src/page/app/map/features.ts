/** From the page's model to features of the map library. */
import Feature from "ol/Feature.js";
import type Geometry from "ol/geom/Geometry.js";
import LineString from "ol/geom/LineString.js";
import MultiPolygon from "ol/geom/MultiPolygon.js";
import Point from "ol/geom/Point.js";
import { interiorPoint, signedAreaM2 } from "../../../geometry/rings.ts";
import type { PointM } from "../../../model/geometry.ts";
import type { DrawnModel, FlatM, PageShape, Place } from "../../model/page-model.ts";
import { type LayerName, layerOf } from "./layer-names.ts";
import type { Subject } from "./styles.ts";

/** Position pairs of a flat line; rings get their first vertex again at the end. */
export function pairs(flat: FlatM, closed = false): PointM[] {
  const out: PointM[] = [];
  for (let i = 0; i + 1 < flat.length; i += 2) out.push([flat[i]!, flat[i + 1]!]);
  if (closed && out.length > 0) out.push(out[0]!);
  return out;
}

export function geometryOf(place: Place): Geometry {
  if (place.form === "point") return new Point([...place.at]);
  if (place.form === "line") return new LineString(pairs(place.line).map((one) => [...one]));
  const polygons = place.areas.map((area) =>
    area.map((ring) => pairs(ring, true).map((one) => [...one])),
  );
  return new MultiPolygon(polygons);
}

/** Where a name stands, and what a list leads to. */
export function middleOf(place: Place): PointM {
  if (place.form === "point") return place.at;
  if (place.form === "line") return middleOfLine(place.line);
  let best: (typeof place.areas)[number] | undefined;
  let bestM2 = -1;
  for (const area of place.areas) {
    const size = Math.abs(signedAreaM2(Float64Array.from(area[0] ?? [])));
    if (size > bestM2) [best, bestM2] = [area, size];
  }
  if (!best?.[0]) return [0, 0];
  const [shell, ...holes] = best.map((ring) => Float64Array.from(ring));
  return interiorPoint({ shell: shell!, holes });
}

function middleOfLine(line: FlatM): PointM {
  const points = pairs(line);
  const lengths = points.slice(1).map(([e, n], i) => {
    const [e0, n0] = points[i]!;
    return Math.hypot(e - e0, n - n0);
  });
  let rest = lengths.reduce((sum, one) => sum + one, 0) / 2;
  for (let i = 0; i < lengths.length; i++) {
    const length = lengths[i]!;
    if (rest <= length && length > 0) {
      const [a, b] = [points[i]!, points[i + 1]!];
      const share = rest / length;
      return [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])];
    }
    rest -= length;
  }
  return points[0] ?? [0, 0];
}

function featureOf(id: string, subject: Subject, geometry: Geometry): Feature {
  const feature = new Feature({ geometry, subject });
  feature.setId(id);
  return feature;
}

/** Features of a model by the layer that they are switched with; from the ground up in each. */
export function featuresByLayer(model: DrawnModel): Map<LayerName, Feature[]> {
  const byLayer = new Map<LayerName, Feature[]>();
  const put = (layer: LayerName, feature: Feature) => {
    const list = byLayer.get(layer);
    if (list) list.push(feature);
    else byLayer.set(layer, [feature]);
  };
  for (const shape of model.shapes) put(layerOf(shape.kind), shapeFeature(shape));
  for (const peg of model.pegs) {
    put("pegs", featureOf(peg.id, { of: "peg", peg }, new Point([...peg.at])));
  }
  for (const finding of model.findings) {
    if (!finding.at) continue;
    put("findings", featureOf(finding.id, { of: "finding", finding }, new Point([...finding.at])));
  }
  return byLayer;
}

const shapeFeature = (shape: PageShape) =>
  featureOf(shape.id, { of: "shape", shape }, geometryOf(shape.place));
