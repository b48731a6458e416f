import type { PointM } from "../../model/geometry.ts";
import type { Case } from "../case.ts";
import { type Field, fieldOf, piecesOfField } from "../field.ts";
import { type Breach, measured, notMeasured } from "../measure.ts";
import { Boundaries } from "../necks.ts";
import type { Rule } from "../rule.ts";
import { leastWidthM } from "./passages.ts";

/** Steps of the grid in a machine's width. */
const STEPS = 12;
/** A machine's place beside the station is looked for this many widths round it. */
const STATION_WIDTHS = 1.5;

/**
 * All of the mown ground hangs together for the machine: from the station it comes, between single
 * wires and firm things, to every room in which it could turn. A part that the machine is carried to
 * has its beginning where it is set down: in its largest room.
 *
 * Where no two boundaries face each other nearer than the machine needs nothing can be parted, and no
 * grid is made: rooms are parted at a saddle of the distance from the boundary, and that is a neck.
 */
export const reach: Rule = {
  id: "reach",
  code: "MOWN_NOT_REACHED",
  title: "mown ground that the machine cannot drive to from the station",
  measure(court) {
    if (court.plan.loops.length === 0) return notMeasured("m²", "at most", "there is no wire");
    const { driveMinM } = court.profile.passage;
    const neededM = leastWidthM(court);
    const bounds = new Boundaries(court);
    const breaches: Breach[] = [];
    let lostM2 = 0;
    let unmeasured = 0;
    for (const loop of loopsWithNecks(court, bounds, neededM)) {
      const field = fieldOf(court, bounds, loop, {
        passM: neededM / 2,
        roomM: driveMinM / 2,
        stepM: driveMinM / STEPS,
      });
      if (!field) {
        unmeasured++;
        continue;
      }
      for (const { areaM2, atM } of lostRooms(court, loop, field)) {
        lostM2 += areaM2;
        breaches.push({
          message: `${areaM2.toFixed(1)} m² of the ground inside loop ${court.wires.loops[loop]!.name} lie behind places narrower than ${neededM.toFixed(2)} m: the machine does not come there from the station.`,
          remedy: "Open a way, move what stands in it, or shut the ground out.",
          atM,
        });
      }
    }
    const note =
      unmeasured > 0 ? `not looked at in ${unmeasured} loops that are too large for it` : undefined;
    return measured("m²", "at most", lostM2, 0, breaches, note);
  },
};

/** Loops in which something faces something else nearer than the machine needs. */
function loopsWithNecks({ wires, necks }: Case, bounds: Boundaries, neededM: number): Set<number> {
  const loops = new Set<number>();
  for (const { widthM, a, b } of necks) {
    if (widthM >= neededM) continue;
    for (const { segment, atM } of [a, b]) {
      if (segment < bounds.wireCount) loops.add(wires.loopOf[segment]!);
      else {
        wires.loops.forEach((_, l) => {
          if (wires.winding(l, atM[0], atM[1]) !== 0) loops.add(l);
        });
      }
    }
  }
  return loops;
}

interface Lost {
  readonly areaM2: number;
  readonly atM: PointM;
}

/** Pieces with room for the machine that it does not come to. */
function lostRooms(court: Case, loop: number, field: Field): Lost[] {
  const { pieceOf, count } = piecesOfField(field);
  const roomsIn = new Float64Array(count + 1);
  for (let i = 0; i < pieceOf.length; i++) {
    if (field.rooms[i] === 1) roomsIn[pieceOf[i]!]!++;
  }
  const withRoom = Array.from({ length: count }, (_, i) => i + 1).filter((p) => roomsIn[p]! > 0);
  if (withRoom.length < 2) return [];
  const partOf = new Map(
    withRoom.map((piece) => [piece, partAt(court, loop, field, pieceOf, piece)]),
  );
  const begun = new Set<number>();
  for (const part of new Set(partOf.values())) {
    const own = withRoom.filter((piece) => partOf.get(piece) === part);
    const largest = own.reduce((best, p) => (roomsIn[p]! > roomsIn[best]! ? p : best), own[0]!);
    begun.add((part === 0 ? stationPiece(court, loop, field, pieceOf, own) : undefined) ?? largest);
  }
  const { passage } = court.profile;
  return withRoom
    .filter((piece) => !begun.has(piece))
    .map((piece) => {
      const places = pieceOf.reduce((n, p) => n + (p === piece ? 1 : 0), 0);
      const at = pieceOf.findIndex((p, i) => p === piece && field.rooms[i] === 1);
      // About: where its middle may be, and as much round it as a disc of that size has more.
      const middleM2 = places * field.stepM ** 2;
      const areaM2 = (Math.sqrt(middleM2 / Math.PI) + passage.driveMinM / 2) ** 2 * Math.PI;
      return { areaM2, atM: placeAt(field, at) };
    });
}

function placeAt({ minE, minN, stepM, columns }: Field, i: number): PointM {
  return [minE + (i % columns) * stepM, minN + Math.floor(i / columns) * stepM];
}

/** The part whose wire lies nearest to a piece's first room; 0 is the one with the station. */
function partAt(
  court: Case,
  loop: number,
  field: Field,
  pieceOf: Int32Array,
  piece: number,
): number {
  const { wires, carried } = court;
  if (carried.segments.size === 0) return 0;
  const [e, n] = placeAt(
    field,
    pieceOf.findIndex((p, i) => p === piece && field.rooms[i] === 1),
  );
  let [part, leastM] = [0, Infinity];
  for (let s = wires.starts[loop]!; s < wires.starts[loop + 1]!; s++) {
    const distanceM = wires.tree.distanceM(s, e, n);
    const own = carried.partOf(s);
    if (distanceM < leastM && own !== undefined) [part, leastM] = [own, distanceM];
  }
  return part;
}

/** The piece nearest to the station of a loop, where one is near. */
function stationPiece(
  court: Case,
  loop: number,
  field: Field,
  pieceOf: Int32Array,
  pieces: readonly number[],
): number | undefined {
  const at = court.plan.loops[loop]!.station?.atM;
  if (!at) return undefined;
  let [best, leastM] = [
    undefined as number | undefined,
    STATION_WIDTHS * court.profile.passage.driveMinM,
  ];
  for (let i = 0; i < pieceOf.length; i++) {
    if (pieceOf[i] === 0 || !pieces.includes(pieceOf[i]!)) continue;
    const [e, n] = placeAt(field, i);
    const farM = Math.hypot(e - at[0], n - at[1]);
    if (farM < leastM) [best, leastM] = [pieceOf[i], farM];
  }
  return best;
}
