/**
 * What would open a passage that is not mown like the rest.
 *
 * Three means: widen it (either bank), move the edge of a bed beside it, or make an edge flush, along
 * which the wire may lie nearer. Each states what it gives: room to drive, or room to mow.
 */
import { nearestOfSegments } from "../geometry/segments.ts";
import type { PointM } from "../model/geometry.ts";
import type { Opening, Verdict } from "../model/plan.ts";
import type { Profile } from "../model/profile.ts";
import type { EdgeKind, Role } from "../model/roles.ts";
import {
  atLeastApartM,
  type BankPiece,
  type Banks,
  type BankWidth,
  eachFacing,
} from "./bank-width.ts";
import type { BankFinder } from "./banks.ts";

/** Edges that can be made flush: soil and paths, and kerbs, which can be lowered. */
const CAN_BE_FLUSH: ReadonlySet<EdgeKind> = new Set(["open", "kerb"]);
/** Things whose edge a gardener can move. */
const CAN_BE_MOVED: ReadonlySet<Role> = new Set(["bed", "gravel", "keep-out"]);

/**
 * @param verdict what it is without any of them
 * @returns what lifts the verdict: for driving first, then for mowing; nothing for `mow`
 */
export function openingsOf(
  banks: Banks,
  width: BankWidth,
  verdict: Verdict,
  bankAt: BankFinder,
  profile: Profile,
): Opening[] {
  if (verdict === "mow") return [];
  const wanted = [
    ...(verdict === "shut"
      ? [{ gives: "drive" as const, atLeastM: profile.passage.driveMinM }]
      : []),
    { gives: "mow" as const, atLeastM: profile.passage.mowMinM },
  ];
  const short = (atLeastM: number): number => atLeastM - width.wireWidthM;
  return [
    ...wanted.map(({ gives, atLeastM }): Opening => {
      return { means: "widen", amountM: short(atLeastM), gives };
    }),
    ...movableAt(width, bankAt).flatMap((of) =>
      wanted.map(({ gives, atLeastM }): Opening => {
        return { means: "move-edge", amountM: short(atLeastM), gives, of };
      }),
    ),
    ...flushEdgings(banks, width, bankAt, wanted, profile.setinM.flush),
  ];
}

/** Names of the things at the narrowest place whose edge can be moved. */
function movableAt(width: BankWidth, bankAt: BankFinder): string[] {
  const names = width.atWires.flatMap((at) => {
    const { thing } = bankAt(at);
    return thing && CAN_BE_MOVED.has(thing.role) ? [thing.name] : [];
  });
  return [...new Set(names)];
}

interface Wanted {
  readonly gives: "drive" | "mow";
  readonly atLeastM: number;
}

/** Flush edging on one side where that is enough; on both where neither is. */
function flushEdgings(
  banks: Banks,
  width: BankWidth,
  bankAt: BankFinder,
  wanted: readonly Wanted[],
  flushM: number,
): Opening[] {
  const flush = {
    left: flushed(banks.left, bankAt, flushM),
    right: flushed(banks.right, bankAt, flushM),
  };
  const sides: { changed: Banks; edged: readonly ("left" | "right")[] }[] = [
    { changed: { left: flush.left, right: banks.right }, edged: ["left"] },
    { changed: { left: banks.left, right: flush.right }, edged: ["right"] },
    { changed: flush, edged: ["left", "right"] },
  ];
  const openings: Opening[] = [];
  for (const { changed, edged } of sides) {
    const wireM = leastWireM(changed);
    const reached = wanted.filter(({ atLeastM }) => wireM >= atLeastM - 1e-6).at(-1);
    if (
      !reached ||
      openings.some((one) => one.gives === reached.gives && one.sides! < edged.length)
    )
      continue;
    const lengthM = edged.reduce(
      (sum, side) => sum + edgedLengthM(banks, changed, side, reached.atLeastM),
      0,
    );
    const names = edged.flatMap((side) => {
      const at = width.atWires[side === "left" ? 0 : 1];
      return bankAt(at).thing?.name ?? "the lawn's edge";
    });
    openings.push({
      means: "flush-edging",
      amountM: wireM - width.wireWidthM,
      gives: reached.gives,
      of: [...new Set(names)].join(" and "),
      sides: edged.length as 1 | 2,
      lengthM,
    });
  }
  return openings;
}

/** A bank with the set-in of flush edging wherever that can be laid. */
function flushed(
  bank: readonly BankPiece[],
  bankAt: BankFinder,
  flushM: number,
): readonly BankPiece[] {
  return bank.map((piece) => {
    if (piece.setinM <= flushM) return piece;
    const at: PointM = [(piece.from[0] + piece.to[0]) / 2, (piece.from[1] + piece.to[1]) / 2];
    const { thing, kind } = bankAt(at);
    const suits = thing?.contact !== "firm" && CAN_BE_FLUSH.has(kind);
    return suits ? { ...piece, setinM: flushM } : piece;
  });
}

function leastWireM(banks: Banks): number {
  let least = Infinity;
  eachFacing(banks, (a, b) => {
    if (atLeastApartM(a, b) - a.setinM - b.setinM >= least) return;
    const { distanceM } = nearestOfSegments(a.from, a.to, b.from, b.to);
    if (distanceM > 0) least = Math.min(least, distanceM - a.setinM - b.setinM);
  });
  return least;
}

/** Length of bank on one side along which the wire has less than is wanted and edging helps. */
function edgedLengthM(
  before: Banks,
  after: Banks,
  side: "left" | "right",
  atLeastM: number,
): number {
  const numberOf = new Map(before[side].map((piece, i) => [piece, i]));
  const narrow = new Set<number>();
  eachFacing(before, (a, b) => {
    if (atLeastApartM(a, b) - a.setinM - b.setinM >= atLeastM) return;
    const { distanceM } = nearestOfSegments(a.from, a.to, b.from, b.to);
    if (distanceM === 0 || distanceM - a.setinM - b.setinM >= atLeastM) return;
    narrow.add(numberOf.get(side === "left" ? a : b)!);
  });
  let lengthM = 0;
  let roundM = 0;
  for (const i of narrow) {
    const piece = before[side][i]!;
    const edged = after[side][i]!;
    if (edged === piece) continue;
    lengthM += Math.hypot(piece.to[0] - piece.from[0], piece.to[1] - piece.from[1]);
    roundM = Math.max(roundM, piece.setinM - edged.setinM);
  }
  // Past both ends it goes on so far that what is not flush keeps its own distance.
  return lengthM + 2 * roundM;
}
