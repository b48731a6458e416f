import { boxFinder } from "../geometry/box-finder.ts";
import { shareInside } from "../geometry/containment.ts";
import { difference } from "../geometry/overlay.ts";
import { totalAreaM2, vertexAt } from "../geometry/rings.ts";
import { soundAreas } from "../geometry/sound-areas.ts";
import type { Lawn } from "../model/site.ts";
import type { NewThing } from "./make-things.ts";
import { listed, type Note, squareMetres } from "./notes.ts";

/** Share of a lawn's edge that lies inside a thing for the lawn to be drawn on top of it. */
const ON_TOP_SHARE = 0.95;

/**
 * A lawn drawn wholly inside something else (grass on a square, a clearing in a wood) is on top of
 * it: it is cut out of the thing, so that it stays lawn. The thing goes where nothing is left of it.
 */
export function cutLawnsOut(
  things: readonly NewThing[],
  lawns: readonly Lawn[],
  note: Note,
): NewThing[] {
  const lawnsAt = boxFinder(lawns.map((lawn) => [lawn.area]));
  return things.flatMap((thing) => {
    const inside = lawnsAt(thing.areas)
      .map((l) => lawns[l]!)
      .filter((lawn) =>
        thing.areas.some(
          (area) =>
            shareInside(area.shell, lawn.area.shell) >= ON_TOP_SHARE &&
            area.holes.every((hole) => shareInside(hole, lawn.area.shell) === 0),
        ),
      );
    if (inside.length === 0) return [thing];
    const areas = soundAreas(
      difference(
        thing.areas,
        inside.map((lawn) => lawn.area),
      ),
    );
    const lawnM2 = totalAreaM2(inside.map((lawn) => lawn.area));
    note({
      code: "LAWN_ON_TOP",
      severity: "info",
      message: `${squareMetres(lawnM2)} of lawn (${listed(inside.map((lawn) => lawn.name))}) lie wholly inside ${thing.name ?? `a thing with the role ${thing.role}`} of ${squareMetres(totalAreaM2(thing.areas))}; it was taken as drawn on top and stays lawn.`,
      remedy: "Remove the lawn from the file if it is none.",
      atM: vertexAt(inside[0]!.area.shell, 0),
      ...thing.source,
    });
    return areas.length === 0 ? [] : [{ ...thing, areas }];
  });
}
