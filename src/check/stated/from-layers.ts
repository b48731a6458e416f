/**
 * A plan read from a file: ours (features with `kind`, docs/formats/plan-geojson.md), perhaps edited
 * elsewhere, or wire drawn by hand: every line, and every ring of a polygon, is a loop of wire.
 */
import type { GridLayer, RawFeature } from "../../model/features.ts";
import { done, failed, type Outcome } from "../../model/finding.ts";
import type { LineM } from "../../model/geometry.ts";
import { readableFeatures } from "./readable.ts";
import { linesOf, pointsOf } from "./shapes.ts";
import type {
  StatedExclusion,
  StatedGuide,
  StatedLoop,
  StatedMown,
  StatedPassage,
  StatedPeg,
  StatedPlan,
  StatedRun,
  StatedStation,
} from "./stated-plan.ts";

/** Ends nearer than this are one vertex, metres. */
const SAME_M = 0.0005;

/**
 * @param layers of the plan's file, in the grid of the site
 * @returns the plan, with findings (`PLAN_VALUE_UNREADABLE`) of what is left out; or the problem
 *   `PLAN_WITHOUT_WIRE` where no line in it can be wire
 */
export function statedOfLayers(layers: readonly GridLayer[]): Outcome<StatedPlan> {
  const file = layers[0]?.file;
  const all = layers.flatMap((layer) => layer.features);
  const isOurs = all.some((one) => one.properties.kind === "boundary-wire");
  const { features, findings } = isOurs
    ? readableFeatures(all, file)
    : { features: all, findings: [] };
  const plan = isOurs ? ourPlan(features) : drawnPlan(features);
  if (plan.loops.length > 0) return done(plan, findings);
  return failed({
    code: "PLAN_WITHOUT_WIRE",
    kind: "input",
    ...(file === undefined ? {} : { file }),
    message: "there is no line in the plan that could be wire",
    remedy:
      "Give a plan.geojson of ours, or a file in which the wire is drawn as a line or polygon; the site's files come after it.",
  });
}

function drawnPlan(features: readonly RawFeature[]): StatedPlan {
  const lines = features.flatMap(linesOf).filter((line) => line.length >= 6);
  const loops = lines.map((line, i) => bareLoop(letters(i), line));
  return { loops, passages: undefined, mown: undefined };
}

function bareLoop(name: string, line: LineM): StatedLoop {
  return {
    name,
    ...closedOf(line),
    lengthM: undefined,
    direction: undefined,
    pegs: undefined,
    station: undefined,
    pairedRuns: undefined,
    exclusionLoops: undefined,
    guideWires: [],
  };
}

function ourPlan(features: readonly RawFeature[]): StatedPlan {
  const byKind = new Map<string, RawFeature[]>();
  for (const one of features) {
    const kind = String(one.properties.kind);
    const list = byKind.get(kind);
    if (list) list.push(one);
    else byKind.set(kind, [one]);
  }
  const of = (kind: string): readonly RawFeature[] => byKind.get(kind) ?? [];
  const ofLoop = <T>(kind: string, loop: string, make: (one: RawFeature) => T[]): T[] =>
    of(kind)
      .filter((one) => textOf(one, "loop") === loop)
      .flatMap(make);
  const loops = of("boundary-wire").flatMap((wire, i): StatedLoop[] => {
    const line = linesOf(wire)[0];
    if (!line || line.length < 6) return [];
    const name = textOf(wire, "loop") ?? letters(i);
    const pegs = ofLoop("peg", name, pegOf);
    const runs = ofLoop("paired-run", name, runOf);
    const exclusions = ofLoop("exclusion-loop", name, exclusionOf);
    return [
      {
        name,
        ...closedOf(line),
        lengthM: numberOf(wire, "length_m"),
        direction: textOf(wire, "direction"),
        pegs: pegs.length > 0 ? pegs : undefined,
        numberedTo: numberOf(wire, "numbered_to"),
        station: ofLoop("station", name, stationOf)[0],
        pairedRuns: runs.length > 0 ? runs : undefined,
        exclusionLoops: exclusions.length > 0 ? exclusions : undefined,
        guideWires: ofLoop("guide-wire", name, guideOf),
      },
    ];
  });
  const mown = of("mown-area").flatMap(mownOf);
  const passages = of("passage").flatMap(passageOf);
  return {
    loops,
    passages: passages.length > 0 ? passages : undefined,
    mown: mown.length > 0 ? mown : undefined,
  };
}

function pegOf(one: RawFeature): StatedPeg[] {
  return pointsOf(one).map((atM) => ({
    number: textOf(one, "number") ?? "",
    atM,
    chainageM: numberOf(one, "chainage_m"),
    secondChainageM: numberOf(one, "second_chainage_m"),
    on: textOf(one, "on"),
    joint: jointOf(one),
  }));
}

/** A joint's number; `yes` or `true` where somebody marked one by hand. */
export function jointOf(one: RawFeature): string | undefined {
  const text = textOf(one, "joint")?.trim() ?? "";
  return /^(?:|0|f|false|n|no|none)$/i.test(text) ? undefined : text;
}

function runOf(one: RawFeature): StatedRun[] {
  return linesOf(one).map((line) => ({
    line,
    from: textOf(one, "from") ?? "?",
    to: textOf(one, "to") ?? "?",
    lengthM: numberOf(one, "length_m"),
  }));
}

function exclusionOf(one: RawFeature): StatedExclusion[] {
  return linesOf(one).map((line) => ({
    ring: closedOf(line).wire,
    name: textOf(one, "name") ?? "?",
    lengthM: numberOf(one, "length_m"),
  }));
}

function stationOf(one: RawFeature): StatedStation[] {
  const given = one.properties.given;
  return pointsOf(one).map((atM) => ({
    atM,
    bearingDeg: numberOf(one, "bearing_deg"),
    given: given === undefined || given === null ? undefined : given === true || given === "true",
    straightM: numberOf(one, "straight_m"),
  }));
}

function guideOf(one: RawFeature): StatedGuide[] {
  return linesOf(one).map((line) => ({
    line,
    lengthM: numberOf(one, "length_m"),
    clearanceM: numberOf(one, "clearance_m"),
  }));
}

function mownOf(one: RawFeature): StatedMown[] {
  const areaM2 = numberOf(one, "area_m2");
  return areaM2 === undefined ? [] : [{ loop: textOf(one, "loop") ?? "?", areaM2 }];
}

function passageOf(one: RawFeature): StatedPassage[] {
  return linesOf(one).map((centreLine) => ({
    number: textOf(one, "number") ?? "?",
    centreLine,
    widthM: numberOf(one, "width_m"),
    wireWidthM: numberOf(one, "wire_width_m"),
    verdict: textOf(one, "verdict"),
  }));
}

function textOf({ properties }: RawFeature, key: string): string | undefined {
  const value = properties[key];
  return value === undefined || value === null ? undefined : String(value);
}

/** A number; text of numbers has become one before (readable.ts). */
function numberOf({ properties }: RawFeature, key: string): number | undefined {
  const value = properties[key];
  return typeof value === "number" ? value : undefined;
}

function closedOf(line: LineM): { wire: Float64Array; openM: number } {
  const n = line.length;
  const openM = Math.hypot(line[n - 2]! - line[0]!, line[n - 1]! - line[1]!);
  const wire = openM <= SAME_M ? line.slice(0, n - 2) : line;
  return { wire, openM: openM <= SAME_M ? 0 : openM };
}

/** A, B, … Z, AA, AB, … */
function letters(i: number): string {
  const last = String.fromCharCode(65 + (i % 26));
  return i < 26 ? last : letters(Math.floor(i / 26) - 1) + last;
}
