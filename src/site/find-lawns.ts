import { boxFinder } from "../geometry/box-finder.ts";
import { intersection } from "../geometry/overlay.ts";
import { totalAreaM2, vertexAt } from "../geometry/rings.ts";
import { REPAIR_TOLERANCES } from "../model/site-rules.ts";
import { type Repaired, repairLawns } from "./lawn-pieces.ts";
import { lawnsByShape } from "./lawns-by-shape.ts";
import { type Note, squareMetres } from "./notes.ts";
import type { RawShape } from "./sort-features.ts";
import { Tally } from "./tally.ts";

/** Lawns found, and the untagged shapes that turned out to lie inside one. */
export interface FoundLawns {
  readonly pieces: readonly Repaired[];
  readonly bedShapes: readonly RawShape[];
}

/** Share of a park or garden that must be drawn as grass for the rest of it not to be. */
const GRASS_DRAWN_SHARE = 0.1;

/** All lawns: those with the role, parks and gardens in which nobody drew the grass, outlines. */
export function findLawns(
  shapes: readonly RawShape[],
  note: Note,
  tolerances = REPAIR_TOLERANCES,
): FoundLawns {
  reportUnfit(shapes, note);
  const areas = shapes.filter((one) => one.shape === "area");
  const lawnShapes = areas.filter((one) => one.assigned.role === "lawn");
  const given = repairLawns(
    lawnShapes.filter((one) => !one.assigned.umbrella),
    note,
    tolerances,
  );
  const umbrellas = repairLawns(
    lawnShapes.filter((one) => one.assigned.umbrella),
    note,
    tolerances,
  );
  const open = openUmbrellas(umbrellas, given, note);
  const known = [...given, ...open];
  const untagged = areas.filter((one) => one.assigned.role === undefined);
  const { lawns, bedShapes } = lawnsByShape(untagged, known, note, tolerances);
  const pieces = [...known, ...lawns].map((piece, i) =>
    piece.named ? piece : { ...piece, name: `lawn ${i + 1}` },
  );
  return { pieces, bedShapes };
}

/** A lawn is an area; lines that do not come back and points cannot be one. */
function reportUnfit(shapes: readonly RawShape[], note: Note): void {
  const tally = new Tally();
  for (const shape of shapes) {
    if (shape.assigned.role !== "lawn" || shape.shape === "area") continue;
    const [e, n] = shape.lines[0]?.[0] ?? shape.points[0]!;
    const code = shape.shape === "line" ? "LINE_DOES_NOT_FIT" : "POINT_DOES_NOT_FIT";
    tally.add(code, "lawn", shape, [e!, n!]);
  }
  tally.tell(note);
}

/** Pieces by place. */
function indexOf(pieces: readonly Repaired[]): (piece: Repaired) => Repaired[] {
  const find = boxFinder(pieces.map((piece) => piece.areas));
  return (piece) => find(piece.areas).map((i) => pieces[i]!);
}

/** Parks and gardens that are lawn themselves, because nobody drew the grass in them. */
function openUmbrellas(
  umbrellas: readonly Repaired[],
  given: readonly Repaired[],
  note: Note,
): Repaired[] {
  const near = indexOf(given);
  const taken: Repaired[] = [];
  for (const umbrella of umbrellas) {
    const grass = near(umbrella).flatMap((piece) => piece.areas);
    const wholeM2 = totalAreaM2(umbrella.areas);
    const grassM2 = totalAreaM2(intersection(umbrella.areas, grass));
    const drawn = grassM2 >= GRASS_DRAWN_SHARE * wholeM2;
    const tag = umbrella.shape.assigned.because;
    note({
      code: drawn ? "PARK_LEFT_TO_ITS_GRASS" : "PARK_TAKEN_AS_LAWN",
      severity: "info",
      message: drawn
        ? `${tag} of ${squareMetres(wholeM2)}: ${squareMetres(grassM2)} of grass are drawn in it, so only those are lawn.`
        : `${tag} of ${squareMetres(wholeM2)}: no grass is drawn in it, so all of it is lawn, less what else is drawn in it.`,
      remedy: drawn
        ? "Give it the attribute role = lawn if all of it is mown."
        : "Draw what is not lawn, or give it the attribute role = ignore.",
      atM: vertexAt(umbrella.areas[0]!.shell, 0),
      ...umbrella.source,
    });
    if (!drawn) taken.push(umbrella);
  }
  return taken;
}
