/** The steps that lay a guide wire, once its loop is closed. */
import type { PointM } from "../../model/geometry.ts";
import type { GuideWire, Loop, Peg } from "../../model/plan.ts";
import type { GuideOnGround } from "../../model/terrain.ts";
import type { PlannedJoint } from "../materials/joints.ts";
import type { WalkSpan, WalkStop } from "../walk.ts";
import { betweenOf } from "./between.ts";
import type { GuideStep, Say } from "./guide.ts";
import { stretchesOf } from "./stretches.ts";

export interface GuideToLay {
  readonly loop: Loop;
  readonly guide: GuideWire;
  readonly ground: GuideOnGround | undefined;
  /** The coupler at its end. */
  readonly coupler: PlannedJoint;
  /** Reel that it begins with. */
  readonly reel: number;
  readonly spareEndM: number;
  /** Sentences for joints of reels inside it, by peg. */
  readonly joints: ReadonlyMap<string, readonly Say[]>;
}

const OPEN = { kind: "lawn", name: undefined } as const;

export function guideWireSteps(job: GuideToLay): GuideStep[] {
  const { guide, coupler, joints } = job;
  const stops = new Set(joints.keys());
  const stretches = stretchesOf(spansOf(job), () => OPEN, stops);
  const laidM = job.ground?.groundM ?? guide.lengthM;
  const steps = stretches.flatMap((stretch, i): GuideStep[] => {
    const from = stretch.spans[0]!.from.peg.number;
    const last = stretch.spans.at(-1)!.to;
    const values = {
      from,
      to: last.peg.number,
      length: { lengthM: stretch.lengthM },
      between: betweenOf(stretch.spans),
    };
    const straightKey = i === 0 ? "guide-wire.out" : "guide-wire.straight";
    const first: Say = {
      key: stretch.form === "curve" && i > 0 ? "guide-wire.curve" : straightKey,
      values: { ...values, reel: job.reel, spare: { lengthM: job.spareEndM } },
    };
    const keep: Say = {
      key: "guide-wire.keep",
      values: { clearance: { lengthM: guide.clearanceM } },
    };
    const step: GuideStep = {
      kind: "guide-wire",
      depth: 0,
      say: i === 0 ? [first, keep] : [first],
      pegs: [from, last.peg.number],
      laidM: stretch.lengthM,
      chainageM: last.chainageM,
    };
    const joint = joints.get(last.peg.number);
    return joint ? [step, { kind: "joint", depth: 0, say: joint }] : [step];
  });
  const join: Say = {
    key: "guide-wire.join",
    values: {
      peg: coupler.peg ?? "",
      joint: coupler.number,
      laid: { lengthM: laidM },
    },
  };
  return [...steps, { kind: "joint", depth: 0, say: [join] }];
}

/** From the station by its pegs to the wire of the loop. */
function spansOf({ loop, guide, ground, coupler }: GuideToLay): WalkSpan[] {
  const { line, pegs } = guide;
  const n = line.length;
  const stop = (number: string, atM: PointM, chainageM: number, on: Peg["on"]): WalkStop => ({
    atM,
    peg: { number, atM, chainageM, on },
    chainageM,
  });
  const start = loop.pegs[0]?.number ?? loop.name;
  const stops = [
    stop(start, [line[0]!, line[1]!], 0, "station"),
    ...pegs.map((peg, k) =>
      stop(peg.number, peg.atM, ground?.pegs[k]?.chainageM ?? peg.chainageM, peg.on),
    ),
    stop(
      coupler.peg ?? loop.name,
      [line[n - 2]!, line[n - 1]!],
      ground?.groundM ?? guide.lengthM,
      "bend",
    ),
  ];
  return stops.slice(1).map((to, i) => {
    const from = stops[i]!;
    return { from, to, lengthM: to.chainageM - from.chainageM, run: undefined };
  });
}
