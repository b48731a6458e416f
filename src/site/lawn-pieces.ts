import { boxFinder } from "../geometry/box-finder.ts";
import { shareInside } from "../geometry/containment.ts";
import { intersection } from "../geometry/overlay.ts";
import { totalAreaM2, vertexAt } from "../geometry/rings.ts";
import type { SourceRef } from "../model/finding.ts";
import type { AreaM } from "../model/geometry.ts";
import type { EdgeKind } from "../model/roles.ts";
import { readAttributes } from "./attributes.ts";
import { counted, listed, type Note, squareMetres } from "./notes.ts";
import { repairPolygon } from "./repair-polygon.ts";
import type { RawShape } from "./sort-features.ts";

/** The lawn of one feature, repaired; lawns of different features may still overlap. */
export interface LawnPiece {
  readonly areas: readonly AreaM[];
  /** What holes of the outline took from its rim: beds beside this lawn. */
  readonly bays: readonly AreaM[];
  readonly name: string;
  readonly named: boolean;
  readonly setinM?: number;
  readonly edgeKind?: EdgeKind;
  readonly source: SourceRef;
}

/** Lawns found, and the untagged shapes that turned out to lie inside one. */
export interface FoundLawns {
  readonly pieces: readonly LawnPiece[];
  readonly bedShapes: readonly RawShape[];
}

/** Share of an untagged outline that must lie inside a lawn for it to be a bed of it. */
const BED_SHARE = 0.9;

/** Share of a park or garden that must be drawn as grass for the rest of it not to be. */
const GRASS_DRAWN_SHARE = 0.1;

/** All lawns: those with the role, parks and gardens in which nobody drew the grass, outlines. */
export function findLawns(shapes: readonly RawShape[], note: Note): FoundLawns {
  const areas = shapes.filter((one) => one.shape === "area");
  const lawnShapes = areas.filter((one) => one.assigned.role === "lawn");
  const given = repairAll(
    lawnShapes.filter((one) => !one.assigned.umbrella),
    note,
  );
  const umbrellas = repairAll(
    lawnShapes.filter((one) => one.assigned.umbrella),
    note,
  );
  const open = openUmbrellas(umbrellas, given, note);
  const known = [...given, ...open];
  const untagged = areas.filter((one) => one.assigned.role === undefined);
  const { lawns, bedShapes } = byShape(untagged, known, note);
  return { pieces: [...known, ...lawns], bedShapes };
}

interface Repaired extends LawnPiece {
  readonly shape: RawShape;
}

function repairAll(shapes: readonly RawShape[], note: Note): Repaired[] {
  const pieces: Repaired[] = [];
  shapes.forEach((shape, i) => {
    const attributes = readAttributes(shape.fields, shape.source, note);
    const repaired = shape.polygons.map((rings) => repairPolygon(rings, shape.source, note));
    const areas = repaired.flatMap((one) => one.areas);
    if (areas.length === 0) return;
    const edgeKind = attributes.edgeKind ?? shape.assigned.edgeKind;
    pieces.push({
      areas,
      bays: repaired.flatMap((one) => one.bays),
      name: attributes.name ?? `lawn ${i + 1}`,
      named: attributes.name !== undefined,
      ...(attributes.setinM !== undefined && { setinM: attributes.setinM }),
      ...(edgeKind && { edgeKind }),
      source: shape.source,
      shape,
    });
  });
  return pieces;
}

/** Pieces by place. */
function indexOf(pieces: readonly LawnPiece[]): (piece: LawnPiece) => LawnPiece[] {
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

/** Untagged outlines: inside a lawn a bed, round lawns nothing, else lawn. */
function byShape(
  untagged: readonly RawShape[],
  known: readonly Repaired[],
  note: Note,
): { lawns: Repaired[]; bedShapes: RawShape[] } {
  if (untagged.length === 0) return { lawns: [], bedShapes: [] };
  const held: { finding: Parameters<Note>[0]; shape: RawShape }[] = [];
  const pieces = untagged.flatMap((shape) =>
    repairAll([shape], (finding) => held.push({ finding, shape })),
  );
  const bySize = [...pieces].sort((a, b) => totalAreaM2(b.areas) - totalAreaM2(a.areas));
  const near = indexOf([...known, ...bySize]);
  const given = new Set<LawnPiece>(known);
  const lawn = new Set<LawnPiece>(known);
  const beds = new Set<RawShape>();
  const frames = new Set<RawShape>();
  for (const piece of bySize) {
    const around = near(piece).filter((other) => other !== piece && lawn.has(other));
    if (around.some((other) => liesIn(piece, other))) beds.add(piece.shape);
    else if (around.some((other) => given.has(other) && liesIn(other, piece))) {
      frames.add(piece.shape);
    } else lawn.add(piece);
  }
  // The repair of a bed is told when the bed is made.
  for (const { finding, shape } of held) if (!beds.has(shape)) note(finding);
  const lawns = pieces
    .filter((piece) => lawn.has(piece))
    .map((piece, i) => (piece.named ? piece : { ...piece, name: `lawn ${known.length + i + 1}` }));
  reportShapes(lawns, pieces, beds, frames, known.length > 0, note);
  return { lawns, bedShapes: untagged.filter((shape) => beds.has(shape)) };
}

/** Whether at least `BED_SHARE` of one piece lies within the outlines of another, larger one. */
function liesIn(inner: LawnPiece, outer: LawnPiece): boolean {
  const innerM2 = totalAreaM2(inner.areas);
  if (innerM2 >= totalAreaM2(outer.areas)) return false;
  const shells = outer.areas.map((area) => ({ shell: area.shell, holes: [] }));
  const shares = inner.areas.map((area) =>
    Math.max(...shells.map((shell) => shareInside(shell.shell, area.shell))),
  );
  if (shares.every((share) => share === 1)) return true;
  if (shares.every((share) => share === 0)) return false;
  return totalAreaM2(intersection(inner.areas, shells)) >= BED_SHARE * innerM2;
}

function reportShapes(
  lawns: readonly Repaired[],
  pieces: readonly Repaired[],
  beds: ReadonlySet<RawShape>,
  frames: ReadonlySet<RawShape>,
  othersKnown: boolean,
  note: Note,
): void {
  const say = (list: readonly Repaired[], code: string, text: string, remedy: string) => {
    if (list.length === 0) return;
    // Beside lawns that are called so, an outline without a role is less surely one.
    const severity = othersKnown && code !== "BEDS_BY_SHAPE" ? "warning" : "info";
    const names = list.map((piece) => piece.source.feature ?? piece.name);
    note({
      code,
      severity,
      message: `${counted(list.length, "outline")} without a role ${text}: ${listed(names)}.`,
      remedy,
      atM: vertexAt(list[0]!.areas[0]!.shell, 0),
      ...list[0]!.source,
    });
  };
  say(
    lawns,
    "LAWNS_BY_SHAPE",
    "taken as lawn, being outer rings",
    "Give them the attribute role, or the layer a rule, if they are something else.",
  );
  say(
    pieces.filter((piece) => beds.has(piece.shape)),
    "BEDS_BY_SHAPE",
    "inside a lawn taken as beds",
    "Give them the attribute role, e.g. water, tree or building, if they are something else.",
  );
  say(
    pieces.filter((piece) => frames.has(piece.shape)),
    "OUTLINES_ROUND_LAWNS",
    "left out, since lawns with a role lie in them",
    "Give them the attribute role = lawn if everything in them is mown.",
  );
}
