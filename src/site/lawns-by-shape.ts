import { EdgeIndex } from "../geometry/edge-index.ts";
import { intersection } from "../geometry/overlay.ts";
import { totalAreaM2, vertexAt } from "../geometry/rings.ts";
import type { AreaM } from "../model/geometry.ts";
import type { RepairTolerances } from "../model/site-rules.ts";
import { type Repaired, repairLawns } from "./lawn-pieces.ts";
import { counted, listed, type Note } from "./notes.ts";
import type { RawShape } from "./sort-features.ts";

/** Share of an untagged outline that must lie inside a lawn for it to be a bed of it. */
const BED_SHARE = 0.9;

/**
 * What outlines without a role are: inside a lawn a bed, round lawns nothing, else lawn. Largest
 * first, so that an outline in a bed of a lawn is a bed too.
 */
export function lawnsByShape(
  untagged: readonly RawShape[],
  known: readonly Repaired[],
  note: Note,
  tolerances: RepairTolerances,
): { lawns: Repaired[]; bedShapes: RawShape[] } {
  if (untagged.length === 0) return { lawns: [], bedShapes: [] };
  const held: { finding: Parameters<Note>[0]; shape: RawShape }[] = [];
  const pieces = untagged.flatMap((shape) =>
    repairLawns([shape], (finding) => held.push({ finding, shape }), tolerances),
  );
  const bySize = [...pieces].sort((a, b) => totalAreaM2(b.areas) - totalAreaM2(a.areas));
  const all: readonly Repaired[] = [...known, ...bySize];
  const within = containmentOf(all);
  const given = new Set<Repaired>(known);
  const lawn = new Set<Repaired>(known);
  const beds = new Set<RawShape>();
  const frames = new Set<RawShape>();
  for (const piece of bySize) {
    const { holders, held: inside } = within.get(piece)!;
    if (holders.some((other) => lawn.has(other))) beds.add(piece.shape);
    else if (inside.some((other) => given.has(other))) frames.add(piece.shape);
    else lawn.add(piece);
  }
  // The repair of a bed is told when the bed is made.
  for (const { finding, shape } of held) if (!beds.has(shape)) note(finding);
  const lawns = pieces.filter((piece) => lawn.has(piece));
  reportShapes(lawns, pieces, beds, frames, known.length > 0, note);
  return { lawns, bedShapes: untagged.filter((shape) => beds.has(shape)) };
}

/** For each piece the larger ones that hold it, and the smaller ones that it holds. */
function containmentOf(
  pieces: readonly Repaired[],
): Map<Repaired, { holders: Repaired[]; held: Repaired[] }> {
  const shells = pieces.map((piece) => piece.areas.map(({ shell }) => ({ shell, holes: [] })));
  const edges = new EdgeIndex(shells);
  const result = new Map(
    pieces.map((piece) => [piece, { holders: [] as Repaired[], held: [] as Repaired[] }] as const),
  );
  for (const piece of pieces) {
    const shares = piece.areas.map((area) => edges.sharesHolding(area.shell));
    for (const number of new Set(shares.flatMap((share) => [...share.keys()]))) {
      const other = pieces[number]!;
      if (other === piece || totalAreaM2(other.areas) <= totalAreaM2(piece.areas)) continue;
      const wholly = shares.every((share) => (share.get(number) ?? 0) > 1 - 1e-9);
      if (!wholly && shareOf(piece.areas, shells[number]!) < BED_SHARE) continue;
      result.get(piece)!.holders.push(other);
      result.get(other)!.held.push(piece);
    }
  }
  return result;
}

function shareOf(areas: readonly AreaM[], shells: readonly AreaM[]): number {
  return totalAreaM2(intersection(areas, shells)) / totalAreaM2(areas);
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
