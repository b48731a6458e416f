/**
 * Wires cut from reels of one size: which piece comes from which reel, where the joints fall, and
 * what is left.
 *
 * A joint falls on the last peg that the reel reaches and that is fit for one: never in a paired
 * run, never under the station. What the reel has beyond it stays on the reel. Only where a reel
 * reaches no such peg (a paired run longer than a reel) is a worse one taken, and said so.
 *
 * What is left of a reel serves the next wire where that saves a reel, or where the whole wire
 * comes from it. Fewest reels come first, then fewest joints, since joints fail most.
 */
import type { PointM } from "../../model/geometry.ts";
import { type JointPlace, unrolledM, type WireToCut, wholeM } from "./wires.ts";

/** A piece of wire as it comes off one reel. */
export interface Piece {
  readonly loop: string;
  readonly wire: WireToCut["wire"];
  /** Place of its wire in the list of wires to cut. */
  readonly wireIndex: number;
  /** Where it begins and ends along its wire, metres. */
  readonly fromM: number;
  readonly toM: number;
  /** What is cut off the reel for it, metres: with slack and spare ends. */
  readonly lengthM: number;
}

export interface Reel {
  /** 1, 2, … in the order in which they are opened. */
  readonly number: number;
  readonly lengthM: number;
  readonly pieces: readonly Piece[];
  readonly leftM: number;
}

/** Where one piece ends and the next begins. */
export interface Joint {
  readonly loop: string;
  readonly wire: WireToCut["wire"];
  /** Peg that it lies at; left out where the reel ends before the first peg. */
  readonly peg?: string;
  readonly atM?: PointM;
  readonly chainageM: number;
  readonly on?: JointPlace["on"];
  readonly fit: JointPlace["fit"];
  readonly fromReel: number;
  readonly toReel: number;
}

export interface Cutting {
  readonly reelM: number;
  readonly reels: readonly Reel[];
  /** In laying order. */
  readonly joints: readonly Joint[];
  /** Left on all reels together, metres. */
  readonly leftM: number;
}

/** A rest shorter than this starts no wire that it does not finish, metres: common practice. */
const LEAST_REST_M = 10;
const EPS = 1e-9;

/** Cuts wires, in their order, from as few reels as that takes, with as few joints as they allow. */
export function cutFromReels(wires: readonly WireToCut[], reelM: number): Cutting {
  const fresh = wires.map(() => false);
  let best = cut(wires, reelM, fresh);
  for (let i = 1; i < wires.length; i++) {
    fresh[i] = true;
    const other = cut(wires, reelM, fresh);
    if (other.reels.length <= best.reels.length && other.joints.length < best.joints.length) {
      best = other;
    } else fresh[i] = false;
  }
  return best;
}

interface OpenReel {
  readonly number: number;
  readonly pieces: Piece[];
  leftM: number;
}

/** @param fresh wires that begin on a new reel although there is a rest */
function cut(wires: readonly WireToCut[], reelM: number, fresh: readonly boolean[]): Cutting {
  const reels: OpenReel[] = [];
  const joints: Joint[] = [];
  const open = (): OpenReel => {
    const reel = { number: reels.length + 1, pieces: [], leftM: reelM };
    reels.push(reel);
    return reel;
  };
  wires.forEach((wire, wireIndex) => {
    const { loop, wire: kind } = wire;
    const needM = wholeM(wire);
    let doneM = 0;
    let atM = 0;
    let before: { reel: OpenReel; end: End } | undefined;
    while (doneM < needM - EPS) {
      const reel =
        restFor(reels, needM - doneM) ??
        (doneM === 0 && !fresh[wireIndex] ? longestRest(reels, wire) : undefined) ??
        open();
      if (before) joints.push(jointOf(wire, before.end, before.reel.number, reel.number));
      const end = endOf(wire, doneM, reel.leftM);
      const lengthM = end.unrolledM - doneM;
      reel.pieces.push({ loop, wire: kind, wireIndex, fromM: atM, toM: end.chainageM, lengthM });
      reel.leftM = Math.max(0, reel.leftM - lengthM);
      doneM = end.unrolledM;
      atM = end.chainageM;
      before = { reel, end };
    }
  });
  const leftM = reels.reduce((sum, reel) => sum + reel.leftM, 0);
  return {
    reelM,
    reels: reels.map((reel) => ({ ...reel, lengthM: reelM })),
    joints,
    leftM,
  };
}

/** The shortest rest that holds what is still to be laid. */
function restFor(reels: readonly OpenReel[], needM: number): OpenReel | undefined {
  const fitting = reels.filter((reel) => reel.leftM >= needM - EPS);
  return fitting.sort((a, b) => a.leftM - b.leftM)[0];
}

/** The longest rest that is worth a joint and reaches a good place for it. */
function longestRest(reels: readonly OpenReel[], wire: WireToCut): OpenReel | undefined {
  const worth = reels.filter(
    ({ leftM }) => leftM >= LEAST_REST_M && lastWithin(wire, 0, leftM, "good") !== undefined,
  );
  return worth.sort((a, b) => b.leftM - a.leftM)[0];
}

interface End {
  readonly unrolledM: number;
  readonly chainageM: number;
  readonly place: JointPlace | undefined;
}

/** How far a reel goes along a wire: to its end, or to the last peg fit for a joint. */
function endOf(wire: WireToCut, doneM: number, leftM: number): End {
  const wholeLengthM = wholeM(wire);
  const reachM = doneM + leftM;
  if (reachM >= wholeLengthM - EPS) {
    return { unrolledM: wholeLengthM, chainageM: wire.laidM, place: undefined };
  }
  for (const fit of ["good", "pair", "station"] as const) {
    const place = lastWithin(wire, doneM, reachM, fit);
    if (place) {
      return { unrolledM: unrolledM(wire, place.chainageM), chainageM: place.chainageM, place };
    }
  }
  // No peg at all: where the reel ends.
  const chainageM = (reachM - wire.startSpareM) / (1 + wire.slackShare);
  return {
    unrolledM: reachM,
    chainageM: Math.min(Math.max(0, chainageM), wire.laidM),
    place: undefined,
  };
}

function lastWithin(
  wire: WireToCut,
  fromM: number,
  toM: number,
  fit: JointPlace["fit"],
): JointPlace | undefined {
  for (let i = wire.places.length - 1; i >= 0; i--) {
    const place = wire.places[i]!;
    const atM = unrolledM(wire, place.chainageM);
    if (place.fit === fit && atM <= toM + EPS && atM > fromM + EPS && place.chainageM > EPS) {
      return place;
    }
  }
  return undefined;
}

function jointOf(wire: WireToCut, end: End, fromReel: number, toReel: number): Joint {
  const { place, chainageM } = end;
  return {
    loop: wire.loop,
    wire: wire.wire,
    ...(place ? { peg: place.peg, atM: place.atM, on: place.on } : {}),
    chainageM,
    fit: place?.fit ?? "station",
    fromReel,
    toReel,
  };
}
