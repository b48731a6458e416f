/** What is laid and what becomes of the lawn, as shapes of the page. */
import { shownText } from "../../escape/hidden.ts";
import type { PlannedJoint } from "../../handover/materials/joints.ts";
import type { Loop, Passage, Plan } from "../../model/plan.ts";
import type { StationFigures } from "../../model/station.ts";
import type { LoopOnGround, PlanOnGround } from "../../model/terrain.ts";
import { areaPlace, linePlace, pointPlace } from "./flat.ts";
import type { Figure, PagePeg, PageShape } from "./page-model.ts";

export function planShapes(plan: Plan, ground: PlanOnGround | undefined): PageShape[] {
  return [
    ...areaShapes(plan, ground),
    ...plan.loops.flatMap((loop, i) => loopShapes(loop, ground?.loops[i])),
    ...(ground?.falls ?? []).map(
      (fall, i): PageShape => ({
        id: `fall:${i + 1}`,
        kind: "edge-fall",
        name: "",
        place: linePlace(fall.line),
        figures: [
          { label: "figure.length", value: { lengthM: fall.lengthM } },
          { label: "figure.fall", value: { percent: fall.fallPercent } },
        ],
        loop: fall.loop,
      }),
    ),
    ...plan.passages.map(passageShape),
  ];
}

/** Joints lie on their pegs. */
export function jointShapes(
  joints: readonly PlannedJoint[],
  pegs: ReadonlyMap<string, PagePeg>,
): PageShape[] {
  return joints.flatMap((joint): PageShape[] => {
    const { number, loop, peg, joins, chainageM, wire } = joint;
    const on = peg && pegs.get(wire === "guide" ? `${loop}-${peg}` : peg);
    if (!on) return [];
    return [
      {
        id: `joint:${number}`,
        kind: "joint",
        name: number,
        place: { form: "point", at: on.at },
        figures: [
          { label: "figure.peg", value: { text: on.number } },
          { label: "figure.chainage", value: { lengthM: chainageM } },
          { label: "figure.joins", value: { word: `joins.${joins}` } },
        ],
        loop,
      },
    ];
  });
}

function areaShapes(plan: Plan, ground: PlanOnGround | undefined): PageShape[] {
  const size = (areaM2: number): Figure => ({ label: "figure.area", value: { areaM2 } });
  return [
    ...plan.mown.map(
      ({ loop, part, areas, areaM2 }): PageShape => ({
        id: `mown:${part}`,
        kind: "mown-area",
        name: "",
        place: areaPlace(areas),
        figures: [
          size(areaM2),
          { label: "figure.loop", value: { text: loop } },
          { label: "figure.part", value: { count: part } },
        ],
        loop,
      }),
    ),
    ...(plan.handTrim.areas.length === 0
      ? []
      : [
          {
            id: "trim",
            kind: "hand-trim",
            name: "",
            place: areaPlace(plan.handTrim.areas),
            figures: [size(plan.handTrim.areaM2)],
          } as const,
        ]),
    ...plan.cutOff.map(
      ({ area, areaM2, reason }, i): PageShape => ({
        id: `cut-off:${i + 1}`,
        kind: "cut-off-area",
        name: "",
        place: areaPlace([area]),
        figures: [size(areaM2), { label: "figure.reason", value: { text: shownText(reason) } }],
      }),
    ),
    ...(ground?.steep ?? []).map(
      ({ loop, area, areaM2, slopePercent }, i): PageShape => ({
        id: `steep:${i + 1}`,
        kind: "steep-area",
        name: "",
        place: areaPlace([area]),
        figures: [size(areaM2), { label: "figure.slope", value: { percent: slopePercent } }],
        loop,
      }),
    ),
  ];
}

function loopShapes(loop: Loop, under: LoopOnGround | undefined): PageShape[] {
  const { name, wire, lengthM, pairedRuns, exclusionLoops, guideWires, station } = loop;
  const length = (flatM: number, groundM: number | undefined): Figure[] => [
    { label: "figure.length", value: { lengthM: flatM } },
    ...(groundM === undefined
      ? []
      : [{ label: "figure.groundLength", value: { lengthM: groundM } } as const]),
  ];
  const closed = new Float64Array(wire.length + 2);
  closed.set(wire);
  closed.set(wire.subarray(0, 2), wire.length);
  return [
    ...exclusionLoops.map(
      (one, i): PageShape => ({
        id: `island:${name}:${i + 1}`,
        kind: "exclusion-loop",
        name: shownText(one.name),
        place: areaPlace([{ shell: one.ring, holes: [] }]),
        figures: [
          { label: "figure.loop", value: { text: name } },
          ...length(one.lengthM, under?.exclusionLoops[i]?.groundM),
          ...(one.things.length > 1
            ? [
                {
                  label: "figure.things",
                  value: { text: one.things.map(shownText).join(", ") },
                } as const,
              ]
            : []),
        ],
        loop: name,
        role: one.role,
      }),
    ),
    {
      id: `wire:${name}`,
      kind: "boundary-wire",
      name,
      place: linePlace(closed),
      figures: [
        ...length(lengthM, under?.wire.groundM),
        { label: "figure.pegs", value: { count: loop.pegs.length } },
        { label: "figure.islands", value: { count: exclusionLoops.length } },
      ],
      loop: name,
    },
    ...pairedRuns.map(
      (run, i): PageShape => ({
        id: `run:${name}:${i + 1}`,
        kind: "paired-run",
        name: "",
        place: linePlace(run.line),
        figures: [
          { label: "figure.from", value: runEnd(run.from) },
          { label: "figure.to", value: runEnd(run.to) },
          ...length(run.lengthM, under?.pairedRuns[i]?.groundM),
        ],
        loop: name,
      }),
    ),
    ...guideWires.map(
      (guide, i): PageShape => ({
        id: `guide:${name}:${i + 1}`,
        kind: "guide-wire",
        name: "",
        place: linePlace(guide.line),
        figures: [
          ...length(guide.lengthM, under?.guideWires[i]?.groundM),
          { label: "figure.clearance", value: { lengthM: guide.clearanceM } },
          { label: "figure.pegs", value: { count: guide.pegs.length } },
        ],
        loop: name,
      }),
    ),
    ...(station.options ?? []).map(
      (option, i): PageShape => ({
        id: `station-option:${name}:${i + 1}`,
        kind: "station-option",
        name: String(i + 1),
        place: pointPlace(option.atM),
        figures: [
          { label: "figure.loop", value: { text: name } },
          { label: "figure.rank", value: { count: i + 1 } },
          { label: "figure.bearing", value: { deg: option.bearingDeg } },
          ...placeFigures(option.figures),
        ],
        loop: name,
        bearingDeg: option.bearingDeg,
      }),
    ),
    {
      id: `station:${name}`,
      kind: "station",
      name,
      place: pointPlace(station.atM),
      figures: [
        { label: "figure.loop", value: { text: name } },
        { label: "figure.bearing", value: { deg: station.bearingDeg } },
        { label: "figure.given", value: { word: station.given ? "given.yes" : "given.no" } },
        ...(station.figures
          ? placeFigures(station.figures)
          : [{ label: "figure.straight", value: { lengthM: station.straightM } } as const]),
      ],
      loop: name,
      bearingDeg: station.bearingDeg,
      given: station.given,
    },
  ];
}

const runEnd = (end: string): Figure["value"] =>
  end === "boundary" || end === "part" ? { word: `end.${end}` } : { text: shownText(end) };

function placeFigures(figures: StationFigures): Figure[] {
  const { straightM, clearAheadM, slopePercent, lead, sun } = figures;
  return [
    { label: "figure.straight", value: { lengthM: straightM } },
    { label: "figure.clearAhead", value: { lengthM: clearAheadM } },
    ...(slopePercent === undefined
      ? []
      : [{ label: "figure.slope", value: { percent: slopePercent } } as const]),
    ...(lead ? [{ label: "figure.lead", value: { lengthM: lead.lengthM } } as const] : []),
    ...(sun ? [{ label: "figure.sun", value: { hours: sun.hoursADay } } as const] : []),
    { label: "figure.score", value: { percent: 100 * figures.score } },
  ];
}

function passageShape(passage: Passage): PageShape {
  const { number, centreLine, widthM, wireWidthM, lengthM, verdict, beyondM2 } = passage;
  return {
    id: `passage:${number}`,
    kind: "passage",
    name: String(number),
    place: linePlace(centreLine),
    figures: [
      { label: "figure.verdict", value: { word: `verdict.${verdict}` } },
      { label: "figure.width", value: { lengthM: widthM } },
      { label: "figure.wireWidth", value: { lengthM: Math.max(0, wireWidthM) } },
      { label: "figure.length", value: { lengthM } },
      ...(beyondM2 > 0 ? [{ label: "figure.beyond", value: { areaM2: beyondM2 } } as const] : []),
    ],
    verdict,
  };
}
