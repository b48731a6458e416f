/** The steps that lay one loop: from its station round the edge, out to each island and back. */
import { SegmentIndex } from "../../geometry/segment-index.ts";
import type { PointM } from "../../model/geometry.ts";
import type { Loop, Passage, Peg } from "../../model/plan.ts";
import type { LoopOnGround } from "../../model/terrain.ts";
import type { PlannedJoint } from "../materials/joints.ts";
import { type WalkSpan, walkOf } from "../walk.ts";
import type { Beside, Surroundings } from "./beside.ts";
import { betweenOf, pegList } from "./between.ts";
import type { GuideStep, Say } from "./guide.ts";
import { type Stretch, stretchesOf } from "./stretches.ts";

export interface LoopToLay {
  readonly loop: Loop;
  readonly ground: LoopOnGround | undefined;
  readonly surroundings: Surroundings;
  /** Joints of its boundary wire, with what is left on the reel that ends there. */
  readonly joints: readonly (PlannedJoint & { readonly leftM: number })[];
  readonly passages: readonly Passage[];
}

/** Turns from these on are told: as bearing off, and as turning, degrees. */
const BEAR_DEG = 20;
const TURN_DEG = 50;
/** Distances within this of each other are one, metres. */
const SAME_GAP_M = 0.03;
/** A curve that bends by less than this altogether only winds, degrees. */
const CURVE_DEG = 30;
/** Rests shorter than this are not told, metres. */
const LEAST_REST_M = 0.5;

/** Where the walk is: on the edge, on an island's ring, at a fork of paired runs. */
interface Place {
  readonly at: "edge" | "ring" | "fork";
  readonly name: string;
}

export interface LaidLoop {
  readonly steps: readonly GuideStep[];
  /** Passages that this loop's wire closes in. */
  readonly passages: readonly Passage[];
}

export function layingSteps(job: LoopToLay): LaidLoop {
  const { loop, ground, surroundings } = job;
  const spans = walkOf(loop, ground);
  const besideOf = ({ from, to }: WalkSpan): Beside =>
    surroundings.along([from.atM, to.atM], loop.name);
  const jointAt = new Map(job.joints.map((joint) => [joint.peg, joint]));
  const ends = new Set(job.joints.flatMap(({ peg }) => peg ?? []));
  const stretches = stretchesOf(spans, besideOf, ends);
  const passagesAt = placePassages(job.passages, stretches);
  const places: Place[] = [{ at: "edge", name: "" }];
  const told: Told = { kinds: new Set(), gap: undefined, beside: undefined };
  const steps: GuideStep[] = [];
  stretches.forEach((stretch, i) => {
    const first = stretch.spans[0]!.from.peg;
    const last = stretch.spans.at(-1)!.to;
    const common = {
      pegs: [first.number, last.peg.number] as const,
      laidM: stretch.lengthM,
      chainageM: last.chainageM,
    };
    if (stretch.form === "out") {
      const next = stretches[i + 1];
      const from = places.at(-1)!;
      const isFork = next?.form === "out";
      const place: Place = { at: isFork ? "fork" : "ring", name: nameBeyond(loop, stretch) };
      const say = [outSay(stretch, from, place), pairSay(stretch)];
      steps.push({ kind: "leave", depth: places.length, say, ...common });
      places.push(place);
      if (!isFork) steps.push(roundStep(stretches, i, place, places.length - 1));
      told.beside = undefined;
      return;
    }
    if (stretch.form === "back") {
      const left = places.length > 1 ? places.pop()! : places[0]!;
      const say = [backSay(stretch, left)];
      steps.push({ kind: "back", depth: places.length, say, ...common });
      told.beside = undefined;
      return;
    }
    const before = stretches[i - 1];
    const onRing = before && before.run === undefined ? before : undefined;
    steps.push({
      kind: stretch.form,
      depth: places.length - 1,
      say: [
        ...turnSay(onRing, stretch),
        laySay(stretch),
        ...keepSay(stretch, surroundings, told),
        ...noteSay(stretch, told),
        ...(passagesAt.get(i) ?? []).map(passageSay),
      ],
      ...common,
    });
    const joint = jointAt.get(last.peg.number);
    if (joint && i + 1 < stretches.length) {
      steps.push({ kind: "joint", depth: places.length - 1, say: jointSay(joint) });
    }
  });
  const passages = [...passagesAt.values()].flat().sort((a, b) => a.number - b.number);
  return { steps, passages: passages.filter(({ verdict }) => verdict !== "shut") };
}

/** What was told last, so that it is not told at every step. */
interface Told {
  readonly kinds: Set<string>;
  gap: readonly [number, number] | undefined;
  beside: Beside | undefined;
}

const middleOf = ({ from, to }: WalkSpan): PointM => [
  (from.atM[0] + to.atM[0]) / 2,
  (from.atM[1] + to.atM[1]) / 2,
];

const endsOf = ({ spans }: Stretch): { from: Peg; to: Peg } => ({
  from: spans[0]!.from.peg,
  to: spans.at(-1)!.to.peg,
});

function laySay(stretch: Stretch): Say {
  const { from, to } = endsOf(stretch);
  const beside = besideSay(stretch.beside!);
  const values = {
    from: from.number,
    to: to.number,
    length: { lengthM: stretch.lengthM },
    beside,
    between: betweenOf(stretch.spans),
  };
  if (from === to) return { key: "lay.around", values };
  if (stretch.form === "straight") return { key: "lay.straight", values };
  if (Math.abs(stretch.bendDeg) < CURVE_DEG) return { key: "lay.winding", values };
  return { key: "lay.curve", values: { ...values, side: sideOf(stretch.bendDeg) } };
}

function besideSay({ kind, name }: Beside): Say {
  return name === undefined
    ? { key: `beside.${kind}` }
    : { key: `beside.${kind}Of`, values: { name } };
}

const sideOf = (degrees: number): "left" | "right" => (degrees > 0 ? "left" : "right");

function turnSay(before: Stretch | undefined, { turnDeg }: Stretch): Say[] {
  const angle = 5 * Math.round(Math.abs(turnDeg) / 5);
  if (!before || angle < BEAR_DEG) return [];
  const key = angle < TURN_DEG ? "lay.bear" : "lay.turn";
  return [{ key, values: { side: sideOf(turnDeg), angle } }];
}

/** How far off to keep, where that is not what was told last. */
function keepSay(stretch: Stretch, surroundings: Surroundings, told: Told): Say[] {
  const beside = stretch.beside!;
  // At its ends a stretch may already turn away: measured at the pegs between, and halfway.
  const inner = stretch.spans.slice(1).map(({ from }) => from.peg.atM);
  const places = inner.length > 0 ? inner : stretch.spans.map(middleOf);
  const gaps = places.flatMap((at) => surroundings.distanceM(at, beside) ?? []);
  const isSame = told.beside?.kind === beside.kind && told.beside.name === beside.name;
  if (gaps.length === 0) {
    told.beside = beside;
    told.gap = undefined;
    return [];
  }
  const least = Math.min(...gaps);
  const most = Math.max(...gaps);
  const known = isSame ? told.gap : undefined;
  told.beside = beside;
  if (known && least >= known[0] - 0.01 && most <= known[1] + 0.01) return [];
  told.gap = [least, most];
  return most - least <= SAME_GAP_M
    ? [{ key: "lay.keep", values: { gap: { lengthM: (least + most) / 2 } } }]
    : [{ key: "lay.keepRange", values: { least: { lengthM: least }, most: { lengthM: most } } }];
}

/** What to mind beside water and drops, once for each; and across paving. */
function noteSay({ beside }: Stretch, told: Told): Say[] {
  const { kind, name } = beside!;
  if (kind === "across") return [{ key: "note.across" }];
  if (kind !== "water" && kind !== "drop") return [];
  const what = `${kind} ${name ?? ""}`;
  if (told.kinds.has(what)) return [];
  told.kinds.add(what);
  return [{ key: `note.${kind}` }];
}

/** What a run leads to: the island's name; nothing for another part of the lawn. */
function nameBeyond(loop: Loop, stretch: Stretch): string {
  const run = loop.pairedRuns[stretch.run!]!;
  if (loop.exclusionLoops.some(({ name }) => name === run.to)) return run.to;
  return "";
}

function outSay(stretch: Stretch, from: Place, to: Place): Say {
  const ends = endsOf(stretch);
  const values = {
    from: ends.from.number,
    to: ends.to.number,
    where: from.at,
    name: to.name,
    length: { lengthM: stretch.lengthM },
    between: betweenOf(stretch.spans),
  };
  const beyond = to.at === "fork" ? "Fork" : to.name === "" ? "Part" : "";
  return { key: from.at === "fork" ? `run.on${beyond}` : `run.out${beyond}`, values };
}

function pairSay(stretch: Stretch): Say {
  return { key: "run.pair", values: { side: sideOfPegs(stretch.spans) } };
}

/** On which side of its pegs the wire of a run lies. */
function sideOfPegs(spans: readonly WalkSpan[]): "left" | "right" {
  const { from, to } = spans[Math.floor((spans.length - 1) / 2)]!;
  const [de, dn] = [to.peg.atM[0] - from.peg.atM[0], to.peg.atM[1] - from.peg.atM[1]];
  const off = ({ atM, peg }: WalkSpan["from"]) =>
    de * (atM[1] - peg.atM[1]) - dn * (atM[0] - peg.atM[0]);
  return off(from) + off(to) >= 0 ? "left" : "right";
}

function backSay(stretch: Stretch, left: Place): Say {
  const { to } = endsOf(stretch);
  const inner = stretch.spans.slice(1).map((span) => span.from.peg.number);
  const values = {
    to: to.number,
    name: left.name,
    length: { lengthM: stretch.lengthM },
    side: sideOfPegs(stretch.spans),
    between:
      inner.length === 0
        ? ""
        : { key: "run.betweenBack" as const, values: { pegs: pegList(inner) } },
  };
  if (left.at === "fork") return { key: "run.backFork", values };
  return { key: left.name === "" ? "run.backPart" : "run.back", values };
}

/** "Now round it", before the stretches of a ring. */
function roundStep(
  stretches: readonly Stretch[],
  out: number,
  place: Place,
  depth: number,
): GuideStep {
  let level = 0;
  let lengthM = 0;
  for (let i = out + 1; i < stretches.length; i++) {
    const stretch = stretches[i]!;
    if (stretch.form === "out") level++;
    else if (stretch.form === "back") {
      if (level === 0) break;
      level--;
    } else if (level === 0) lengthM += stretch.lengthM;
  }
  const peg = endsOf(stretches[out]!).to.number;
  const values = { name: place.name, peg, length: { lengthM } };
  const key = place.name === "" ? "run.roundPart" : "run.round";
  return { kind: "note", depth, say: [{ key, values }] };
}

export function jointSay(joint: PlannedJoint & { readonly leftM: number }): Say[] {
  const [before, after] = joint.reels!;
  const values = { before, after, peg: joint.peg!, joint: joint.number };
  const left: Say = {
    key: "joint.left",
    values: { left: { lengthM: joint.leftM }, reel: before },
  };
  return [
    { key: "joint.reels", values },
    ...(joint.leftM >= LEAST_REST_M ? [left] : []),
    { key: "joint.test" },
  ];
}

function passageSay({ number, verdict, wireWidthM, widthM }: Passage): Say {
  const width = { lengthM: verdict === "shut" ? widthM : wireWidthM };
  return { key: `passage.${verdict}`, values: { number, width } };
}

/**
 * Passages by the stretch at which they are told: where the second of their two wires is laid; a shut
 * one where the wire first comes past.
 */
function placePassages(
  passages: readonly Passage[],
  stretches: readonly Stretch[],
): Map<number, Passage[]> {
  const found = new Map<number, Passage[]>();
  if (passages.length === 0) return found;
  const spans = stretches.flatMap(({ spans, run }, stretch) =>
    run === undefined ? spans.map((span) => ({ span, stretch })) : [],
  );
  const index = new SegmentIndex(
    spans.map(({ span: { from, to } }) => Float64Array.of(...from.atM, ...to.atM)),
    false,
  );
  for (const passage of passages) {
    const reachM = passage.verdict === "shut" ? passage.widthM : passage.wireWidthM / 2 + 0.4;
    const [e, n] = passage.atM;
    const near = index
      .inBox(e - reachM, n - reachM, e + reachM, n + reachM)
      .flatMap((i) => {
        const { span, stretch } = spans[i]!;
        return distanceM(passage.atM, span) <= reachM ? [stretch] : [];
      })
      .sort((a, b) => a - b);
    const at = passage.verdict === "shut" ? near[0] : near.at(-1);
    if (at !== undefined) found.set(at, [...(found.get(at) ?? []), passage]);
  }
  return found;
}

function distanceM([e, n]: PointM, { from, to }: WalkSpan): number {
  const [ae, an] = from.atM;
  const [de, dn] = [to.atM[0] - ae, to.atM[1] - an];
  const square = de * de + dn * dn;
  const share = square > 0 ? Math.min(1, Math.max(0, ((e - ae) * de + (n - an) * dn) / square)) : 0;
  return Math.hypot(e - ae - share * de, n - an - share * dn);
}
