/**
 * Parts that the machine cannot drive to: a loop and station of their own, a place on the main loop's
 * wire, or left out. All three are reckoned, one is taken.
 *
 * A part is a main one where the user placed a station in it, else the largest is.
 */
import { grow, growLines } from "../geometry/offset.ts";
import { intersection } from "../geometry/overlay.ts";
import { lineLengthM, totalAreaM2 } from "../geometry/rings.ts";
import type { Finding } from "../model/finding.ts";
import type { AreaM } from "../model/geometry.ts";
import type { PartsChoice, PartsFigures } from "../model/plan.ts";
import type { Profile } from "../model/profile.ts";
import { type CarryGround, carryWay } from "./carry-way.ts";
import * as say from "./findings.ts";
import { joinLoops } from "./join-loops.ts";
import type { LaidLoops } from "./lay-loops.ts";
import type { LoopDraft } from "./loop.ts";

/** Ways for carried parts take their time: unasked they are only looked for among this few loops. */
const RECKONED_LOOPS = 4;

/** Runs to carried parts keep this apart, metres. */
const RUNS_APART_M = 0.3;

export interface SettledParts {
  readonly laid: LaidLoops;
  /** What lies inside the wire of parts that hang on another loop, and which. */
  readonly carried: readonly { readonly name: string; readonly inside: AreaM }[];
  /** What would lie inside the wire of parts that are left out. */
  readonly leftOut: readonly AreaM[];
  /** The three choices compared; empty where every part is reached. */
  readonly compared: readonly PartsFigures[];
  readonly findings: readonly Finding[];
}

/**
 * @param mowable ground that counts as mown where a wire holds it
 */
export function settleParts(
  laid: LaidLoops,
  choice: PartsChoice,
  mowable: readonly AreaM[],
  ground: CarryGround,
  profile: Profile,
): SettledParts {
  const { drafts, partOf } = laid;
  const isMain = mainParts(laid);
  const away = drafts.map((_, i) => i).filter((i) => !isMain.has(partOf[i]!));
  if (away.length === 0) return { laid, carried: [], leftOut: [], compared: [], findings: [] };
  const main = drafts.map((_, i) => i).filter((i) => isMain.has(partOf[i]!));
  const wanted = choice === "carried" || drafts.length <= RECKONED_LOOPS;
  const hung = wanted ? hangOn(laid, main, away, ground, profile) : undefined;
  const mownM2 = (list: readonly AreaM[]): number =>
    totalAreaM2(intersection(reached(list, profile), mowable));
  const all = drafts.map((draft) => draft.inside);
  const own = figuresOf("own", drafts, mownM2(all));
  const none = figuresOf(
    "none",
    main.map((i) => drafts[i]!),
    mownM2(main.map((i) => all[i]!)),
  );
  const carried = hung ? [figuresOf("carried", hung.drafts, own.mownM2)] : [];
  const compared = [own, ...carried, none];
  if (choice === "none") {
    return {
      laid: keep(laid, main),
      carried: [],
      leftOut: away.map((i) => all[i]!),
      compared,
      findings: [
        say.partsLeftOut(away.length, own.mownM2 - none.mownM2, drafts[away[0]!]!.loop.station.atM),
      ],
    };
  }
  if (choice !== "carried" || !hung) {
    return { laid, carried: [], leftOut: [], compared, findings: [] };
  }
  const failed = hung.stay.map((i) => drafts[i]!);
  return {
    laid: { ...keep(laid, hung.kept), drafts: hung.drafts },
    carried: hung.carried,
    leftOut: [],
    compared,
    findings: [
      ...hung.carried.map(({ name, inside }) =>
        say.partCarried(name, [inside.shell[0]!, inside.shell[1]!]),
      ),
      ...failed.map(({ loop }) => say.partNotCarried(loop.name, loop.station.atM)),
    ],
  };
}

/** Parts with a station that the user placed; the largest where there is none. */
function mainParts({ drafts, partOf }: LaidLoops): Set<number> {
  const given = drafts.flatMap((draft, i) => (draft.station.given ? [partOf[i]!] : []));
  return new Set(given.length > 0 ? given : partOf.slice(0, 1));
}

function reached(insides: readonly AreaM[], profile: Profile): readonly AreaM[] {
  const past = profile.mowing.pastWireM;
  return past > 0 ? grow(insides, past, "round") : insides;
}

function figuresOf(parts: PartsChoice, drafts: readonly LoopDraft[], mownM2: number): PartsFigures {
  return {
    parts,
    wireM: drafts.reduce((sum, { loop }) => sum + loop.lengthM, 0),
    pegs: drafts.reduce((sum, { loop }) => sum + loop.pegs.length, 0),
    stations: drafts.length,
    mownM2,
  };
}

/** The loops that stay, with what belongs to them; parts that have none left are not divided. */
function keep(laid: LaidLoops, kept: readonly number[]): LaidLoops {
  const parts = new Set(kept.map((i) => laid.partOf[i]!));
  return {
    ...laid,
    drafts: kept.map((i) => laid.drafts[i]!),
    partOf: kept.map((i) => laid.partOf[i]!),
    divided: laid.divided.map((one, part) =>
      parts.has(part) ? one : { pieces: [], joined: one.joined, lost: one.lost },
    ),
  };
}

interface Hung {
  readonly drafts: readonly LoopDraft[];
  /** Numbers of the loops that stay loops, in the order of `drafts`. */
  readonly kept: readonly number[];
  readonly carried: readonly { name: string; inside: AreaM }[];
  /** Numbers of parts without a way for the wire. */
  readonly stay: readonly number[];
}

/** Hangs each part on the main loop to which its way is shortest. */
function hangOn(
  laid: LaidLoops,
  main: readonly number[],
  away: readonly number[],
  ground: CarryGround,
  profile: Profile,
): Hung {
  const insides = laid.drafts.map((draft) => draft.inside);
  const joined = new Map(main.map((i) => [i, laid.drafts[i]!]));
  const blocked: AreaM[] = [];
  const carried: { name: string; inside: AreaM }[] = [];
  const stay: number[] = [];
  for (const i of away) {
    const single = laid.partOf.filter((part) => part === laid.partOf[i]).length === 1;
    let best: { on: number; way: Float64Array; lengthM: number } | undefined;
    for (const on of single ? main : []) {
      const way = carryWay(
        joined.get(on)!,
        laid.drafts[i]!,
        [...insides, ...blocked],
        ground,
        profile,
      );
      if (!way) continue;
      const lengthM = lineLengthM(way);
      if (!best || lengthM < best.lengthM) best = { on, way, lengthM };
    }
    if (!best) {
      stay.push(i);
      continue;
    }
    const draft = joined.get(best.on)!;
    const second = laid.drafts[i]!;
    const loop = joinLoops(draft.loop, second.loop, best.way, profile);
    joined.set(best.on, {
      ...draft,
      loop,
      station: { ...draft.station, straightM: loop.station.straightM },
      blockedBy: [...draft.blockedBy, ...second.blockedBy],
      tightBends: [...draft.tightBends, ...second.tightBends],
    });
    carried.push({ name: draft.loop.name, inside: second.inside });
    blocked.push(...growLines([best.way], RUNS_APART_M, "round", "round"));
  }
  const kept = [...main, ...stay].sort((a, b) => a - b);
  return {
    drafts: kept.map((i) => joined.get(i) ?? laid.drafts[i]!),
    kept,
    carried,
    stay,
  };
}
