/** The laying guide of a plan: before, each loop in laying order, its proof, what to mind. */
import type { PointM } from "../../model/geometry.ts";
import type { Loop, Passage, Plan } from "../../model/plan.ts";
import type { Site } from "../../model/site.ts";
import type { PlanOnGround } from "../../model/terrain.ts";
import type { Caution, CautionCode } from "../cautions.ts";
import type { PlannedJoint } from "../materials/joints.ts";
import { type Materials, materialsOf } from "../materials/materials.ts";
import type { Quantities } from "../quantities.ts";
import { compassSide } from "../setting-out/control-points.ts";
import { pegTable } from "../setting-out/peg-table.ts";
import { tiesOf } from "../setting-out/ties.ts";
import { Surroundings } from "./beside.ts";
import type { Guide, GuideSection, GuideStep, Say } from "./guide.ts";
import { guideWireSteps } from "./lay-guide-wire.ts";
import { jointSay, layingSteps } from "./lay-loop.ts";

/** What the guide is made from; all of one plan. */
export interface GuideInput {
  readonly site: Site;
  readonly plan: Plan;
  readonly ground?: PlanOnGround | undefined;
  readonly quantities: Quantities;
  readonly cautions: readonly Caution[];
  /** Findings of severity `error` that stand. */
  readonly errors: number;
}

/** The station is taped with a long tape where need be, metres. */
const STATION_TAPE_M = 50;
/** A tie that is worse than this is none that a station is put down by, metres. */
const STATION_ERROR_M = 0.03;
/** Islands named in one sentence, at most. */
const NAMES_MAX = 6;

/** Steps in laying order; lengths along the ground where heights were given. */
export function guideOf(input: GuideInput): Guide {
  const { plan } = input;
  return {
    title: { key: "guide.title", values: { site: plan.siteName } },
    sections: [
      before(input, materialsOf(plan, input.quantities, input.ground)),
      ...loopSections(input),
      mind(input),
    ],
  };
}

/** What is said of the loops of a plan; text and page ask for the same. */
const sectionsOf = new WeakMap<Plan, { of: GuideInput; sections: readonly GuideSection[] }>();

function loopSections(input: GuideInput): readonly GuideSection[] {
  const { site, plan, ground, quantities } = input;
  const known = sectionsOf.get(plan);
  const isSame =
    known?.of.site === site && known.of.ground === ground && known.of.quantities === quantities;
  if (known && isSame) return known.sections;
  const materials = materialsOf(plan, quantities, ground);
  const surroundings = new Surroundings(site, plan);
  const stations = stationTies(input);
  const sections = plan.loops.flatMap((_, i) => {
    const { section, passages } = layLoop(input, materials, surroundings, stations, i);
    return [section, proveLoop(input, passages, i)];
  });
  sectionsOf.set(plan, { of: input, sections });
  return sections;
}

const note = (...say: readonly Say[]): GuideStep => ({ kind: "note", depth: 0, say });

/** Cautions that matter before the first peg is driven. */
const FIRST: ReadonlySet<string> = new Set<CautionCode>([
  "CHECK_ON_SITE",
  "BURIED_SERVICES",
  "SUPPLY_OFF",
  "OPEN_WATER",
  "DROP",
  "STEEP_GROUND",
  "WIRE_ACROSS_PAVING",
]);

const cautionSteps = (cautions: readonly Caution[], isFirst: boolean): GuideStep[] =>
  cautions
    .filter(({ code }) => FIRST.has(code) === isFirst)
    .map(({ code }) => note({ key: `caution.${code as CautionCode}` }));

function before(
  { plan, ground, quantities, cautions, errors }: GuideInput,
  { leads }: Materials,
): GuideSection {
  const { totals } = quantities;
  const { wire } = plan.profile;
  const ohm = (wire.reelM * wire.ohmPerKm) / 1000;
  const isRevised = plan.loops.some(({ numberedTo }) => numberedTo !== undefined);
  const buy: Say = {
    key: "before.buy",
    values: {
      wire: { lengthM: totals.wireToBuyM },
      reels: totals.reels,
      reel: { sizeM: wire.reelM },
      pegs: totals.pegsToBuy,
      couplers: totals.joints,
      connectors: totals.connectors,
      stations: totals.stations,
      fixings: totals.fixings,
    },
  };
  const leadSay = leads.flatMap(({ loop, straightM }): Say[] =>
    straightM === undefined
      ? []
      : [{ key: "before.lead", values: { loop, length: { lengthM: straightM } } }],
  );
  return {
    title: { key: "before.title" },
    part: "before",
    isNumbered: false,
    steps: [
      ...(errors > 0 ? [note({ key: "before.errors", values: { count: errors } })] : []),
      ...cautionSteps(cautions, true),
      note(buy, ...leadSay),
      note({ key: "before.reels", values: { ohm: { ohm } } }),
      note({ key: "before.how" }),
      ...(isRevised ? [note({ key: "before.revision" })] : []),
      note({
        key: "before.lengths",
        values: { ground: ground ? "yes" : "no", numbers: isRevised ? "kept" : "new" },
      }),
      note({ key: "before.lawn" }),
      note({ key: "before.pegs" }),
    ],
  };
}

function layLoop(
  { plan, ground, quantities }: GuideInput,
  materials: Materials,
  surroundings: Surroundings,
  stations: ReadonlyMap<string, Say>,
  index: number,
): { section: GuideSection; passages: readonly Passage[] } {
  const loop = plan.loops[index]!;
  const figures = quantities.loops[index]!;
  const under = ground?.loops[index];
  const { wire } = plan.profile;
  const own = materials.joints.filter((joint) => joint.loop === loop.name);
  const joints = own
    .filter(({ joins }) => joins === "reels")
    .map((one) => withRest(one, materials));
  const { steps, passages } = layingSteps({
    loop,
    ground: under,
    surroundings,
    joints: joints.filter((one) => one.wire === "boundary"),
    passages: plan.passages,
  });
  const laidM = figures.wireGroundM ?? figures.wireM;
  const last = pieceOf(materials, loop, "boundary", "end");
  const guides = loop.guideWires.flatMap((guide, g) => {
    const couplers = own.filter(({ joins }) => joins === "guide-wire");
    return guideWireSteps({
      loop,
      guide,
      ground: under?.guideWires[g],
      coupler: couplers[g]!,
      reel: pieceOf(materials, loop, "guide", "start")?.reel ?? 1,
      spareEndM: wire.spareEndM,
      joints: new Map(
        joints.flatMap((one) =>
          one.wire === "guide" && one.peg ? [[one.peg, jointSay(one)] as const] : [],
        ),
      ),
    });
  });
  const close: GuideStep = {
    kind: "close",
    depth: 0,
    say: [
      {
        key: "close.back",
        values: {
          laid: { lengthM: laidM },
          spare: { lengthM: wire.spareEndM },
          peg: loop.pegs[0]?.number ?? "",
        },
      },
      ...(last && last.leftM >= 1
        ? [
            {
              key: "close.left" as const,
              values: { left: { lengthM: last.leftM }, reel: last.reel },
            },
          ]
        : []),
    ],
  };
  const section: GuideSection = {
    title: {
      key: "loop.title",
      values: {
        loop: loop.name,
        wire: { lengthM: laidM },
        pegs: figures.pegs + figures.guidePegs,
        islands: figures.exclusionLoops,
      },
    },
    loop: loop.name,
    part: "lay",
    isNumbered: true,
    steps: [stationStep(plan, loop, materials, stations), ...steps, close, ...guides],
  };
  return { section, passages };
}

function stationStep(
  { profile }: Plan,
  loop: Loop,
  materials: Materials,
  stations: ReadonlyMap<string, Say>,
): GuideStep {
  const { station } = loop;
  const peg = loop.pegs[0]?.number ?? "";
  const angle = (station.bearingDeg * Math.PI) / 180;
  const ahead: PointM = [Math.sin(angle), Math.cos(angle)];
  const start = pieceOf(materials, loop, "boundary", "start");
  const tie = stations.get(peg);
  const straight: Say = {
    key: "station.straight",
    values: { length: { lengthM: station.straightM } },
  };
  return {
    kind: "station",
    depth: 0,
    say: [
      {
        key: "station.set",
        values: {
          peg,
          heading: { key: `compass.${compassSide([0, 0], ahead)}` },
          bearing: Math.round(station.bearingDeg) % 360,
        },
      },
      ...(tie ? [tie] : []),
      ...(station.straightM > 0 ? [straight] : []),
      ...(station.given ? [] : [{ key: "station.chosen" as const }]),
      ...(start
        ? [
            {
              key: start.isFirst ? ("loop.reel" as const) : ("loop.reelRest" as const),
              values: { reel: start.reel },
            },
          ]
        : []),
      { key: "station.spare", values: { peg, spare: { lengthM: profile.wire.spareEndM } } },
    ],
    chainageM: 0,
  };
}

/** Where the peg of each station lies, by two tapes from things that everyone finds. */
function stationTies({ site, plan, ground }: GuideInput): Map<string, Say> {
  const first = new Set(plan.loops.map(({ pegs }) => pegs[0]?.number));
  const pegs = pegTable(plan, ground).filter(({ number }) => first.has(number));
  const { controls, rows } = tiesOf(site, pegs, STATION_TAPE_M, { withMarks: false });
  const named = (number: string): Say => {
    const { kind, name, side } = controls.find((one) => one.number === number)!;
    const where: Say = { key: `side.${side ?? "N"}` };
    return { key: `control.${kind}`, values: { name, side: where } };
  };
  return new Map(
    rows.flatMap(({ peg, tapes, side, errorM = Infinity }): [string, Say][] => {
      if (!tapes || !side || errorM > STATION_ERROR_M) return [];
      const [a, b] = tapes;
      const values = {
        peg,
        first: { lengthM: a.distanceM },
        from: named(a.from),
        second: { lengthM: b.distanceM },
        and: named(b.from),
        side,
      };
      return [[peg, { key: "station.tie", values }]];
    }),
  );
}

/** The reel that a wire of a loop begins or ends on, and what is on it after that piece. */
function pieceOf(
  { reels }: Materials,
  loop: Loop,
  wire: "boundary" | "guide",
  which: "start" | "end",
): { reel: number; isFirst: boolean; leftM: number } | undefined {
  const found = reels.flatMap((reel) => {
    let leftM = reel.lengthM;
    return reel.pieces.flatMap((piece, i) => {
      leftM -= piece.lengthM;
      const isOwn = piece.loop === loop.name && piece.wire === wire;
      return isOwn ? [{ reel: reel.number, isFirst: i === 0, leftM, toM: piece.toM, piece }] : [];
    });
  });
  if (which === "start") return found.find(({ piece }) => piece.fromM === 0);
  return found.sort((a, b) => b.toM - a.toM)[0];
}

/** A joint with what is left on the reel that ends there. */
function withRest(joint: PlannedJoint, { reels }: Materials): PlannedJoint & { leftM: number } {
  const reel = reels.find(({ number }) => number === joint.reels?.[0]);
  let leftM = reel?.lengthM ?? 0;
  for (const piece of reel?.pieces ?? []) {
    leftM -= piece.lengthM;
    const isIt = piece.loop === joint.loop && piece.wire === joint.wire;
    if (isIt && Math.abs(piece.toM - joint.chainageM) < 1e-6) break;
  }
  return { ...joint, leftM };
}

function proveLoop(
  { plan, quantities }: GuideInput,
  driven: readonly Passage[],
  index: number,
): GuideSection {
  const loop = plan.loops[index]!;
  const { reading } = quantities.loops[index]!;
  const islands = loop.exclusionLoops.map(({ name }) => name);
  const names = { names: islands.slice(0, NAMES_MAX), more: islands.length > NAMES_MAX };
  const say: Say[] = [
    {
      key: "prove.reading",
      values: {
        expected: { ohm: reading.at20Ohm },
        least: { ohm: reading.leastOhm },
        most: { ohm: reading.mostOhm },
      },
    },
    { key: "prove.connect" },
    { key: "prove.power" },
    { key: "prove.walk" },
    ...(islands.length > 0 ? [{ key: "prove.islands" as const, values: { names } }] : []),
    ...(driven.length > 0
      ? [
          {
            key: "prove.passages" as const,
            values: {
              count: driven.length,
              numbers: driven.map(({ number }) => String(number)).join(", "),
            },
          },
        ]
      : []),
    { key: "prove.dock", values: { fixings: plan.profile.station.fixings } },
  ];
  return {
    title: { key: "prove.title", values: { loop: loop.name } },
    loop: loop.name,
    part: "prove",
    isNumbered: true,
    steps: say.map(
      (one): GuideStep => ({
        kind: "test",
        depth: 0,
        say: one.key === "prove.reading" ? [one, { key: "prove.wrong" }] : [one],
      }),
    ),
  };
}

function mind({ cautions }: GuideInput): GuideSection {
  return {
    title: { key: "mind.title" },
    part: "mind",
    isNumbered: false,
    steps: [...cautionSteps(cautions, false), note({ key: "mind.record" })],
  };
}
