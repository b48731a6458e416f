import { boxFinder } from "../geometry/box-finder.ts";
import type { EdgeIndex } from "../geometry/edge-index.ts";
import { shrink } from "../geometry/offset.ts";
import { difference, intersection } from "../geometry/overlay.ts";
import { totalAreaM2, vertexAt } from "../geometry/rings.ts";
import { soundAreas } from "../geometry/sound-areas.ts";
import type { Role } from "../model/roles.ts";
import type { Lawn, Thing } from "../model/site.ts";
import { type Note, squareMetres } from "./notes.ts";

/** Roles that people draw as islands; that a house or a path leaves the lawn is normal. */
const ISLANDS: ReadonlySet<Role> = new Set<Role>(["bed", "water", "tree", "gravel", "keep-out"]);

/** Less than this inside or outside is a matter of drawing, m². */
const TOLERANCE_M2 = 0.01;

/** Less than this share inside is a neighbour of the lawn, not an island of it. */
const ISLAND_SHARE = 0.1;

/**
 * Islands that reach over a lawn edge: the lawn ends where they begin. What sticks out no farther
 * than `overhangM` is a slip of the hand and is cut off; what sticks out farther stays. Both told.
 */
export function cutOverEdge(
  things: readonly Thing[],
  lawns: readonly Lawn[],
  edges: EdgeIndex,
  overhangM: number,
  note: Note,
): Thing[] {
  const lawnsAt = boxFinder(lawns.map((lawn) => [lawn.area]));
  return things.map((thing) => {
    if (!ISLANDS.has(thing.role) || thing.contact !== "loop") return thing;
    if (!thing.areas.some((area) => edges.reaches(area.shell, true, 0))) return thing;
    const shells = lawnsAt(thing.areas).map((l) => ({ shell: lawns[l]!.area.shell, holes: [] }));
    const outside = soundAreas(difference(thing.areas, shells));
    const wholeM2 = totalAreaM2(thing.areas);
    const outsideM2 = totalAreaM2(outside);
    const insideM2 = wholeM2 - outsideM2;
    if (outsideM2 < TOLERANCE_M2 || insideM2 < TOLERANCE_M2) return thing;
    if (insideM2 < ISLAND_SHARE * wholeM2) return thing;
    const isSlip = overhangM > 0 && shrink(outside, overhangM / 2, "mitre").length === 0;
    const areas = isSlip ? soundAreas(intersection(thing.areas, shells)) : thing.areas;
    note({
      code: isSlip ? "ISLAND_CUT_BACK" : "ISLAND_OVER_EDGE",
      severity: "info",
      message: isSlip
        ? `${thing.name} sticks out over the lawn edge by at most ${Number((100 * overhangM).toFixed(2))} cm; it was cut back to the edge: ${squareMetres(wholeM2)} before, ${squareMetres(totalAreaM2(areas))} after.`
        : `${thing.name} reaches over the lawn edge: ${squareMetres(outsideM2)} of its ${squareMetres(wholeM2)} lie outside the lawn. The lawn ends where it begins.`,
      remedy: isSlip
        ? "Nothing to do; draw it to the edge. repair.overhang_m sets how far."
        : "Nothing to do; check the outline if it should lie inside the lawn.",
      atM: vertexAt(outside[0]!.shell, 0),
      ...thing.source,
    });
    return isSlip ? { ...thing, areas } : thing;
  });
}
