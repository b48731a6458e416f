/** The other plan over the one that is shown: what is only in one of them. */
import Feature from "ol/Feature.js";
import LineString from "ol/geom/LineString.js";
import Point from "ol/geom/Point.js";
import VectorLayer from "ol/layer/Vector.js";
import VectorSource from "ol/source/Vector.js";
import type { In } from "../../model/compare-plans.ts";
import { pairs } from "../map/features.ts";
import type { App } from "../part.ts";
import { type CompareStyles, compareStyles } from "./look.ts";
import { comparing } from "./state.ts";

/** Metres on the ground of a CSS pixel beyond which pegs are left out. */
const PEGS_UNTIL_M = 0.03;

export function drawOver({ map }: App): void {
  const source = new VectorSource();
  let styles: { readonly look: typeof map.look; readonly own: CompareStyles } | undefined;
  const stylesNow = () => {
    if (styles?.look !== map.look) styles = { look: map.look, own: compareStyles(map.look) };
    return styles.own;
  };
  const layer = new VectorLayer({
    source,
    style: (feature, resolution) => {
      const [of, where] = [feature.get("of") as "wire" | "peg", feature.get("in") as In];
      if (where === "both" || (of === "peg" && resolution > PEGS_UNTIL_M)) return [];
      return stylesNow()[of][where];
    },
  });
  let remove: (() => void) | undefined;
  comparing.subscribe(({ compared, view }, before) => {
    if (compared === before.compared && view === before.view) return;
    source.clear(true);
    remove?.();
    remove = undefined;
    const wire = view === "over" ? compared?.wire : undefined;
    if (!wire) return;
    source.addFeatures([
      ...wire.wires.map(
        (one) =>
          new Feature({
            geometry: new LineString(pairs(one.line).map((at) => [...at])),
            of: "wire",
            in: one.in,
          }),
      ),
      ...wire.pegs.map(
        (one) => new Feature({ geometry: new Point([...one.at]), of: "peg", in: one.in }),
      ),
    ]);
    remove = map.addLayer(layer);
  });
}
