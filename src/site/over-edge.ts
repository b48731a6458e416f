import { boxFinder } from "../geometry/box-finder.ts";
import type { EdgeIndex } from "../geometry/edge-index.ts";
import { difference } from "../geometry/overlay.ts";
import { totalAreaM2, vertexAt } from "../geometry/rings.ts";
import type { Role } from "../model/roles.ts";
import type { Lawn, Thing } from "../model/site.ts";
import { type Note, squareMetres } from "./notes.ts";

/** Roles that people draw as islands; that a house or a path leaves the lawn is normal. */
const ISLANDS: ReadonlySet<Role> = new Set<Role>(["bed", "water", "tree", "gravel", "keep-out"]);

/** Less than this inside or outside is a matter of drawing, m². */
const TOLERANCE_M2 = 0.01;

/** Less than this share inside is a neighbour of the lawn, not an island of it. */
const ISLAND_SHARE = 0.1;

/** Tells of islands that reach over a lawn edge: cut there, as if drawn to the edge. */
export function reportOverEdge(
  things: readonly Thing[],
  lawns: readonly Lawn[],
  edges: EdgeIndex,
  note: Note,
): void {
  const lawnsAt = boxFinder(lawns.map((lawn) => [lawn.area]));
  for (const thing of things) {
    if (!ISLANDS.has(thing.role) || thing.contact !== "loop") continue;
    if (!thing.areas.some((area) => edges.reaches(area.shell, true, 0))) continue;
    const near = lawnsAt(thing.areas).map((l) => lawns[l]!);
    const outside = difference(
      thing.areas,
      near.map((lawn) => ({ shell: lawn.area.shell, holes: [] })),
    );
    const wholeM2 = totalAreaM2(thing.areas);
    const outsideM2 = totalAreaM2(outside);
    const insideM2 = wholeM2 - outsideM2;
    if (outsideM2 < TOLERANCE_M2 || insideM2 < TOLERANCE_M2) continue;
    if (insideM2 < ISLAND_SHARE * wholeM2) continue;
    note({
      code: "ISLAND_OVER_EDGE",
      severity: "info",
      message: `${thing.name} reaches over the lawn edge: ${squareMetres(outsideM2)} of its ${squareMetres(wholeM2)} lie outside the lawn. The lawn ends where it begins.`,
      remedy: "Nothing to do; check the outline if it should lie inside the lawn.",
      atM: vertexAt(outside[0]!.shell, 0),
      ...thing.source,
    });
  }
}
