/** Taking a stretch of the lawn's edge by tapping it; it is marked on the map. */
import Feature from "ol/Feature.js";
import LineString from "ol/geom/LineString.js";
import VectorLayer from "ol/layer/Vector.js";
import type MapBrowserEvent from "ol/MapBrowserEvent.js";
import VectorSource from "ol/source/Vector.js";
import Stroke from "ol/style/Stroke.js";
import Style from "ol/style/Style.js";
import { nearestStretch } from "../../edits/stretches.ts";
import type { App, Tool } from "../part.ts";
import { EDIT_ICONS } from "./icons.ts";
import { canPlan, plannerOf } from "./planner.ts";
import { editingOf, stretchesOf } from "./state.ts";

export const edgeTool: Tool = {
  id: "edge",
  label: "tool.edge",
  icon: EDIT_ICONS.edge,
  order: 44,
  isThere: canPlan,
  take(app) {
    void plannerOf(app).start();
    app.open("edit");
    const onTap = ({ coordinate: [e = 0, n = 0] }: MapBrowserEvent) => {
      const stretch = nearestStretch(stretchesOf(app), [e, n]);
      if (stretch >= 0) editingOf(app).set({ stretch });
    };
    app.map.ol.on("singleclick", onTap);
    return () => app.map.ol.un("singleclick", onTap);
  },
};

/** Marks the stretch that is taken, also where it was taken by keys. */
export function markStretch(app: App): void {
  const source = new VectorSource();
  const layer = new VectorLayer({
    source,
    style: () => new Style({ stroke: new Stroke({ color: app.map.look.selected, width: 6 }) }),
  });
  app.map.addLayer(layer);
  const draw = () => {
    source.clear(true);
    const { stretch } = editingOf(app).state;
    const one = stretch === undefined ? undefined : stretchesOf(app)[stretch];
    if (one) source.addFeature(new Feature(new LineString(one.line.map(([e, n]) => [e, n]))));
  };
  editingOf(app).subscribe(draw);
  app.store.subscribe((state, before) => {
    if (state.model !== before.model) draw();
  });
}
