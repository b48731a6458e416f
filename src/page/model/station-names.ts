/** What the user calls the stations that the user placed. */
import type { PlacedPoint } from "../../model/site.ts";
import type { PageShape } from "./page-model.ts";

/** Given to stations without a name. */
const NUMBERED = /^station \d+$/;

/** Stations with the names of the places they were wanted at: each has the nearest one's. */
export function withOwnNames(
  shapes: readonly PageShape[],
  wanted: readonly PlacedPoint[],
): PageShape[] {
  return shapes.map((shape) => {
    const { kind, given, place } = shape;
    if (kind !== "station" || !given || place.form !== "point") return shape;
    const [e, n] = place.at;
    const far = ({ atM }: PlacedPoint) => Math.hypot(atM[0] - e, atM[1] - n);
    const [nearest] = [...wanted].sort((a, b) => far(a) - far(b));
    if (!nearest || NUMBERED.test(nearest.name)) return shape;
    return { ...shape, ownName: nearest.name };
  });
}
