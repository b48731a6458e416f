/**
 * The search for a break in a loop's wire: which stretch to test next, given the answers so far.
 *
 * A test is a meter across two places of the wire whose ends are off the station: the stretch
 * between them carries (good) or does not (dead). Each test is chosen by what it costs, walking and
 * clipping on, over what it tells (bits, Shannon 1948), among those that keep a promise: no more
 * than ceil(log2(pegs)) + 1 tests in all, wherever the one break is.
 */
import type { PointM } from "../../model/geometry.ts";
import type { FaultEstimate } from "./fault-reading.ts";
import type { Stretch, TestedWire, WirePlace } from "./wire-places.ts";

/** What a test showed of the wire between two places. */
export interface Answer {
  readonly from: string;
  readonly to: string;
  readonly carries: boolean;
}

/** A stretch to test, and why. */
export interface NextTest {
  readonly from: WirePlace;
  readonly to: WirePlace;
  readonly wireM: number;
  /** Spare wire from one to the other, straight, metres. */
  readonly straightM: number;
  /** From where the last test was, metres. */
  readonly walkM: number;
  readonly why: "halves" | "joint";
  /** Joint that it is about. */
  readonly joint?: string;
}

export interface SearchState {
  /** Stretches that may hold the break, in order along the wire. */
  readonly suspects: readonly Stretch[];
  readonly suspectM: number;
  /** Tests still needed at most, after this many. */
  readonly testsLeft: number;
  readonly testsDone: number;
  /** The one that is left, where one is. */
  readonly found: Stretch | undefined;
  readonly next: NextTest | undefined;
  /** True where dead stretches have nothing in common: there is more than one break. */
  readonly several: boolean;
}

/** Why answers lead nowhere. */
export type SearchProblem =
  | { readonly kind: "unknown-place"; readonly name: string }
  | { readonly kind: "backwards"; readonly answer: Answer }
  | { readonly kind: "contradiction" };

/** A joint fails as often as this much wire, metres: joints fail most, common practice. */
const JOINT_WORTH_M = 50;
/** Clipping on and reading takes as long as walking this far, metres: common practice. */
const TEST_WORTH_M = 20;
/** A joint less likely than this gets no test of its own. */
const LIKELY = 0.03;
/** A reading at the ends may be mistaken: all wire keeps this share of belief. */
const MISREAD = 0.05;

/** @param estimate where readings at the ends put the fault */
export function searchBreak(
  wire: TestedWire,
  answers: readonly Answer[],
  estimate?: FaultEstimate,
): SearchState | SearchProblem {
  const spans: { answer: Answer; fromM: number; toM: number }[] = [];
  const first = wire.places[0]!;
  const byName = new Map([...wire.places, ...wire.alsoStart].map((one) => [one.name, one]));
  for (const answer of answers) {
    const ends = [answer.from, answer.to].map((name) => byName.get(name));
    const missing = ends.indexOf(undefined);
    if (missing >= 0)
      return { kind: "unknown-place", name: missing === 0 ? answer.from : answer.to };
    const [from, to] = ends as [WirePlace, WirePlace];
    if (from.chainageM >= to.chainageM) return { kind: "backwards", answer };
    spans.push({ answer, fromM: from.chainageM, toM: to.chainageM });
  }
  const within = ({ from, to }: Stretch, fromM: number, toM: number): boolean =>
    from.chainageM >= fromM - 1e-9 && to.chainageM <= toM + 1e-9;
  const meets = ({ from, to }: Stretch, fromM: number, toM: number): boolean =>
    from.chainageM < toM - 1e-9 && to.chainageM > fromM + 1e-9;
  const good = spans.filter(({ answer }) => answer.carries);
  const dead = spans.filter(({ answer }) => !answer.carries);
  const open = wire.stretches.filter((one) => !good.some((g) => within(one, g.fromM, g.toM)));
  const inAll = open.filter((one) => dead.every((d) => meets(one, d.fromM, d.toM)));
  const shortest = [...dead].sort((a, b) => a.toM - a.fromM - (b.toM - b.fromM))[0];
  const several = inAll.length === 0 && dead.length > 1;
  const suspects =
    several && shortest ? open.filter((one) => meets(one, shortest.fromM, shortest.toM)) : inAll;
  // Each dead stretch must hold something that no good one clears.
  const cleared = dead.some((d) => !open.some((one) => meets(one, d.fromM, d.toM)));
  if (suspects.length === 0 || cleared) return { kind: "contradiction" };
  const promised = Math.ceil(Math.log2(Math.max(2, wire.pegs))) + 1;
  const needed = Math.ceil(Math.log2(suspects.length));
  // More than one break, or answers of the user's own choice, may use the promise up.
  const testsLeft = Math.max(needed, promised - answers.length);
  const suspectM = suspects.reduce((sum, one) => sum + one.lengthM, 0);
  const last = answers.at(-1);
  const standing = (last && byName.get(last.to)?.atM) ?? first.atM;
  const found = suspects.length === 1 ? suspects[0] : undefined;
  return {
    suspects,
    suspectM,
    testsDone: answers.length,
    testsLeft: found ? 0 : testsLeft,
    found,
    next: found ? undefined : nextTest(suspects, beliefs(suspects, estimate), testsLeft, standing),
    several,
  };
}

/** How likely each suspect is to hold the break; together 1. */
function beliefs(suspects: readonly Stretch[], estimate: FaultEstimate | undefined): number[] {
  const plain = suspects.map((one) => one.lengthM + JOINT_WORTH_M * one.joints.length);
  const total = plain.reduce((a, b) => a + b, 0);
  if (!estimate) return plain.map((one) => one / total);
  const { chainageM, uncertaintyM } = estimate;
  const wide = Math.max(uncertaintyM, 0.5);
  const seen = suspects.map(({ from, to }, i) => {
    const away = ((from.chainageM + to.chainageM) / 2 - chainageM) / wide;
    return plain[i]! * Math.exp(-(away * away) / 2);
  });
  const sum = seen.reduce((a, b) => a + b, 0);
  const trust = sum > 0 ? 1 - MISREAD : 0;
  return plain.map((one, i) => (trust * seen[i]!) / (sum || 1) + ((1 - trust) * one) / total);
}

function nextTest(
  suspects: readonly Stretch[],
  belief: readonly number[],
  testsLeft: number,
  standing: PointM,
): NextTest {
  const most = 2 ** (testsLeft - 1);
  const count = suspects.length;
  const sums = [0];
  for (const one of belief) sums.push(sums[sums.length - 1]! + one);
  // Whatever the answer, what is left can still be searched within the promise.
  const keeps = (inside: number): boolean =>
    inside < count && inside <= most && count - inside <= most;
  const acrossM = (first: number, last: number): number =>
    apartM(suspects[first]!.from.atM, suspects[last]!.to.atM);
  const walkM = (first: number, last: number): number =>
    Math.min(
      apartM(standing, suspects[first]!.from.atM),
      apartM(standing, suspects[last]!.to.atM),
    ) + acrossM(first, last);
  const testOf = (first: number, last: number) => {
    const [from, to] = [suspects[first]!.from, suspects[last]!.to];
    const wireM = to.chainageM - from.chainageM;
    return { from, to, wireM, straightM: acrossM(first, last), walkM: walkM(first, last) };
  };
  const jointed = suspects.flatMap(({ joints }, i) =>
    joints.length > 0 && belief[i]! >= LIKELY && keeps(1) ? [i] : [],
  );
  // The nearest joint comes first, where the promise leaves a test for it.
  const near = cheapest(jointed, (i) => walkM(i, i));
  if (near !== undefined)
    return { ...testOf(near, near), why: "joint", joint: suspects[near]!.joints[0]! };
  // Metres of walking for each bit told: for the first so many stretches, and for the last.
  const cost = (first: number, last: number): number => {
    if (!keeps(last - first + 1)) return Infinity;
    const told = bits(sums[last + 1]! - sums[first]!);
    return told > 0 ? (walkM(first, last) + TEST_WORTH_M) / told : Number.MAX_VALUE;
  };
  const places = suspects.map((_, i) => i);
  const front = cheapest(places, (k) => cost(0, k))!;
  const back = cheapest(places, (k) => cost(k, count - 1))!;
  const inFront = cost(0, front) <= cost(back, count - 1);
  return { ...(inFront ? testOf(0, front) : testOf(back, count - 1)), why: "halves" };
}

/** The first of what costs least. */
function cheapest(list: readonly number[], cost: (one: number) => number): number | undefined {
  let best: number | undefined;
  let least = Infinity;
  for (const one of list) {
    const costs = cost(one);
    if (costs >= least - 1e-9 && best !== undefined) continue;
    if (costs === Infinity) continue;
    best = one;
    least = costs;
  }
  return best;
}

/** What an answer tells whose chance is p. */
function bits(p: number): number {
  if (p <= 0 || p >= 1) return 0;
  return -p * Math.log2(p) - (1 - p) * Math.log2(1 - p);
}

function apartM(a: PointM, b: PointM): number {
  return Math.hypot(a[0] - b[0], a[1] - b[1]);
}
