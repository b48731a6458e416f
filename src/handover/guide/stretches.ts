/**
 * A walk in stretches that a crew lays in one go: straight ones, curves, paired runs out and back.
 *
 * Spans of a ring are put together while the wire is straight (within 4 cm) and lies beside the same
 * edge; short straight pieces that bend on become a curve. A stretch ends where a paired run leaves
 * and where reels are joined.
 */
import type { PointM } from "../../model/geometry.ts";
import type { WalkSpan } from "../walk.ts";
import type { Beside } from "./beside.ts";

export interface Stretch {
  readonly form: "straight" | "curve" | "out" | "back";
  readonly spans: readonly WalkSpan[];
  readonly lengthM: number;
  /** What a ring's stretch lies beside; undefined on runs. */
  readonly beside: Beside | undefined;
  /** Paired run, for `out` and `back`. */
  readonly run: number | undefined;
  /** Turn from the stretch before, degrees, left positive; 0 at the first. */
  readonly turnDeg: number;
  /** Turn within it, degrees, left positive. */
  readonly bendDeg: number;
}

/** Pegs of a straight stretch lie at most this far from its chord, metres. */
const STRAIGHT_M = 0.04;
/** Pieces shorter than this that bend on are one curve, metres. */
const CURVE_PIECE_M = 2.5;
/** A turn of more than this is a corner and ends a curve, degrees. */
const CORNER_DEG = 50;
/** Round small things pieces shorter than this make a curve although they turn by more. */
const SMALL_PIECE_M = 1.2;
const SMALL_CORNER_DEG = 80;
/** Turns of less than this are no corners: the wire only winds, degrees. */
const WINDING_DEG = 20;
/** Pieces shorter than this wind together along an edge, by which they can be laid, metres. */
const WINDING_PIECE_M = 8;
/** A crossing begins and ends this near to the paving that it crosses, metres. */
const CROSSING_END_M = 2;
/** Beside something for less than this, the stretch counts to its neighbours, metres. */
const LEAST_BESIDE_M = 0.8;

/**
 * @param besideOf what a span lies beside, by its middle
 * @param stops numbers of pegs at which a stretch ends whatever lies beyond (joints)
 */
export function stretchesOf(
  spans: readonly WalkSpan[],
  besideOf: (span: WalkSpan) => Beside,
  stops: ReadonlySet<string>,
): Stretch[] {
  const legs = legsOf(spans);
  const drafts = legs.flatMap((leg) =>
    leg[0]!.run ? [runDraft(leg)] : ringDrafts(leg, besideOf, stops),
  );
  return drafts.map((draft, i) => {
    const before = drafts[i - 1];
    return {
      ...draft,
      lengthM: draft.spans.reduce((sum, { lengthM }) => sum + lengthM, 0),
      turnDeg: before ? turn(heading(before.spans.at(-1)!), heading(draft.spans[0]!)) : 0,
      bendDeg: bendOf(draft.spans),
    };
  });
}

type Draft = Pick<Stretch, "form" | "spans" | "beside" | "run">;

/** Spans of one ring or one run that follow each other. */
function legsOf(spans: readonly WalkSpan[]): WalkSpan[][] {
  const legs: WalkSpan[][] = [];
  for (const span of spans) {
    const last = legs.at(-1);
    const before = last?.at(-1);
    const goesOn =
      before && before.run?.index === span.run?.index && before.run?.way === span.run?.way;
    if (last && goesOn) last.push(span);
    else legs.push([span]);
  }
  return legs;
}

function runDraft(spans: readonly WalkSpan[]): Draft {
  const { index, way } = spans[0]!.run!;
  return { form: way, spans, beside: undefined, run: index };
}

function ringDrafts(
  leg: readonly WalkSpan[],
  besideOf: (span: WalkSpan) => Beside,
  stops: ReadonlySet<string>,
): Draft[] {
  const pieces = alike(leg, besideOf, stops).flatMap(({ beside, spans }) =>
    straightPieces(spans).map((one) => ({ beside, spans: one })),
  );
  const groups: (typeof pieces)[] = [];
  for (const piece of pieces) {
    const group = groups.at(-1);
    const goesOn =
      group !== undefined &&
      !stops.has(piece.spans[0]!.from.peg.number) &&
      bendsOn(group.at(-1)!, piece);
    if (group && goesOn) group.push(piece);
    else groups.push([piece]);
  }
  return groups.flatMap((group): Draft[] => {
    const [first, second] = group;
    const isCurve = group.length > 2 || (second && cornerDeg(first!, second) < WINDING_DEG);
    if (!isCurve) return group.map(straight);
    const spans = group.flatMap((piece) => piece.spans);
    return [{ form: "curve", spans, beside: first!.beside, run: undefined }];
  });
}

type Piece = Pick<Draft, "beside" | "spans">;

const cornerDeg = (before: Piece, after: Piece): number =>
  Math.abs(turn(heading(before.spans.at(-1)!), heading(after.spans[0]!)));

/** Whether two pieces that follow each other belong to one curve or winding stretch. */
function bendsOn(before: Piece, after: Piece): boolean {
  if (before.beside !== after.beside) return false;
  const corner = cornerDeg(before, after);
  const [shorter, longer] = [lengthOf(before.spans), lengthOf(after.spans)].sort((a, b) => a - b);
  if (longer! < SMALL_PIECE_M && corner <= SMALL_CORNER_DEG) return true;
  if (longer! < CURVE_PIECE_M && corner <= CORNER_DEG) return true;
  const hasEdge = before.beside !== undefined && !["lawn", "loop"].includes(before.beside.kind);
  return shorter! < (hasEdge ? WINDING_PIECE_M : CURVE_PIECE_M) && corner < WINDING_DEG;
}

const straight = ({ beside, spans }: Piece): Draft => ({
  form: "straight",
  spans,
  beside,
  run: undefined,
});

const lengthOf = (spans: readonly WalkSpan[]): number =>
  spans.reduce((sum, { lengthM }) => sum + lengthM, 0);

interface Alike {
  beside: Beside;
  spans: WalkSpan[];
}

/** Spans beside the same thing that follow each other; short ones count to the one before. */
function alike(
  leg: readonly WalkSpan[],
  besideOf: (span: WalkSpan) => Beside,
  stops: ReadonlySet<string>,
): Alike[] {
  const groups: Alike[] = [];
  for (const span of leg) {
    const beside = besideOf(span);
    const last = groups.at(-1);
    if (last && same(last.beside, beside)) last.spans.push(span);
    else groups.push({ beside, spans: [span] });
  }
  const long: Alike[] = [];
  for (const group of withoutCrossingEnds(groups)) {
    const last = long.at(-1);
    const isShort = lengthOf(group.spans) < LEAST_BESIDE_M && group.beside.kind !== "across";
    if (last && (isShort || same(last.beside, group.beside))) last.spans.push(...group.spans);
    else long.push({ ...group });
  }
  const [first, second] = long;
  if (first && second && lengthOf(first.spans) < LEAST_BESIDE_M && first.beside.kind !== "across") {
    long.splice(0, 2, { beside: second.beside, spans: [...first.spans, ...second.spans] });
  }
  return long.flatMap(({ beside, spans }) => {
    const cuts: Alike[] = [];
    for (const span of spans) {
      const last = cuts.at(-1);
      if (last && !stops.has(span.from.peg.number)) last.spans.push(span);
      else cuts.push({ beside, spans: [span] });
    }
    return cuts;
  });
}

/** Beside paving just before and after it is crossed: that belongs to what lies before and after. */
function withoutCrossingEnds(groups: readonly Alike[]): Alike[] {
  return groups.map((group, i) => {
    if (group.beside.kind !== "flush" || lengthOf(group.spans) > CROSSING_END_M) return group;
    const [before, after] = [groups[i - 1], groups[i + 1]];
    const isCrossed = (one: Alike | undefined) =>
      one?.beside.kind === "across" && one.beside.name === group.beside.name;
    if (isCrossed(after) && before) return { ...group, beside: before.beside };
    if (isCrossed(before) && after) return { ...group, beside: after.beside };
    return group;
  });
}

const same = (a: Beside, b: Beside): boolean => a.kind === b.kind && a.name === b.name;

/** Spans in pieces whose pegs lie within a few centimetres of a chord (Douglas and Peucker). */
function straightPieces(spans: readonly WalkSpan[]): WalkSpan[][] {
  if (spans.length < 2) return [[...spans]];
  const a = spans[0]!.from.atM;
  const b = spans.at(-1)!.to.atM;
  let worst = 0;
  let at = 0;
  for (let i = 1; i < spans.length; i++) {
    const offM = offChordM(spans[i]!.from.atM, a, b);
    if (offM > worst) [worst, at] = [offM, i];
  }
  if (worst <= STRAIGHT_M) return [[...spans]];
  return [...straightPieces(spans.slice(0, at)), ...straightPieces(spans.slice(at))];
}

/** Distance from the chord, or from its nearer end beyond that; from a where both ends are one. */
function offChordM([e, n]: PointM, a: PointM, b: PointM): number {
  const [de, dn] = [b[0] - a[0], b[1] - a[1]];
  const square = de * de + dn * dn;
  const share = square > 1e-12 ? ((e - a[0]) * de + (n - a[1]) * dn) / square : 0;
  const clipped = Math.min(1, Math.max(0, share));
  return Math.hypot(e - a[0] - clipped * de, n - a[1] - clipped * dn);
}

/** Heading of a span, radians anticlockwise from east. */
function heading({ from, to }: WalkSpan): number {
  return Math.atan2(to.atM[1] - from.atM[1], to.atM[0] - from.atM[0]);
}

/** From one heading to another, degrees, left positive, −180 to 180. */
function turn(before: number, after: number): number {
  const degrees = ((after - before) * 180) / Math.PI;
  return degrees > 180 ? degrees - 360 : degrees <= -180 ? degrees + 360 : degrees;
}

function bendOf(spans: readonly WalkSpan[]): number {
  let sum = 0;
  for (let i = 1; i < spans.length; i++) sum += turn(heading(spans[i - 1]!), heading(spans[i]!));
  return sum;
}
