/** What of the map can be changed, and where it lies. */
import type { PointM } from "../../../model/geometry.ts";
import type { Edit, EditSpot, RingsM, Target } from "../../edits/edit.ts";
import { nearestOnEdge } from "../../edits/stretches.ts";
import { targetOf } from "../../edits/target.ts";
import type { PageModel, PageShape } from "../../model/page-model.ts";
import { middleOf, pairs } from "../map/features.ts";
import type { App } from "../part.ts";
import { plannerOf } from "./planner.ts";

/** The shape with an id; undefined for pegs and findings. */
export function shapeOf(model: PageModel, id: string | undefined): PageShape | undefined {
  return id === undefined ? undefined : model.shapes.find((one) => one.id === id);
}

/** What an edit of a shape is about; undefined where it is no part of the site. */
export function targetOfShape(app: App, { source, isHole, place }: PageShape): Target | undefined {
  if (!source) return undefined;
  const hole =
    isHole && place.form === "area"
      ? place.areas.map((rings): RingsM => rings.map((ring) => pairs(ring)))
      : undefined;
  return targetOf(source, plannerOf(app).source.siteFile.name, hole);
}

export function isMovable(app: App, shape: PageShape): boolean {
  if (shape.kind === "station") return true;
  const isThing = shape.kind === "thing" || shape.kind === "run-ground";
  return isThing && targetOfShape(app, shape) !== undefined;
}

/** The place by which a shape is known. */
export const placeOf = (shape: PageShape): PointM => middleOf(shape.place);

/** An edit that moves a shape; a station stays on the lawn's edge. */
export function moveEdit(app: App, shape: PageShape, by: PointM): Edit | undefined {
  if (shape.kind !== "station") {
    const of = targetOfShape(app, shape);
    return of && { edit: "move", of, byM: by };
  }
  const { model } = app.store.state;
  const [e, n] = placeOf(shape);
  const spots = model.shapes.flatMap((one): EditSpot[] => {
    if (one.kind !== "station") return [];
    if (one.id === shape.id) return [spot(one, nearestOnEdge(model, [e + by[0], n + by[1]]))];
    return one.given ? [spot(one, placeOf(one))] : [];
  });
  return { edit: "stations", spots };
}

const spot = ({ ownName }: PageShape, atM: PointM): EditSpot =>
  ownName === undefined ? { atM } : { name: ownName, atM };
