/** What the user is told of divided parts and of loops that lie near each other. */
import { grow } from "../geometry/offset.ts";
import { areaM2, interiorPoint } from "../geometry/rings.ts";
import type { Finding } from "../model/finding.ts";
import type { AreaM } from "../model/geometry.ts";
import type { Profile } from "../model/profile.ts";
import type { LaidLoops } from "./lay-loops.ts";
import type { Leftover } from "./leftover.ts";
import { pairsNearer } from "./spaced.ts";
import type { Split } from "./split.ts";
import type { Breach } from "./split-tries.ts";

/** Reason of a cut-off area: ground between the wires of two loops. */
export const BETWEEN_LOOPS = "between two loops";

const WIRE_EVENED = "Loops with more islands hold less lawn, so that none has too much wire.";

/** Strips reach this far into what is beside them, so that no hair of ground is left. Metres. */
const OVERLAP_M = 0.02;

/** Ground between the wires of the loops of divided parts. */
export function stripsBetween({ divided }: LaidLoops): AreaM[] {
  return grow(
    divided.flatMap(({ split }) => split?.strips ?? []),
    OVERLAP_M,
    "mitre",
  );
}

/** Wires may come nearer than the spacing by this before it is said, metres. */
const SPACING_TOLERANCE_M = 0.002;

const m2 = (value: number): string => `${value.toFixed(0)} m²`;
const m = (value: number): string => `${value.toFixed(0)} m`;

/** Findings on divided parts (`LOOPS_SPLIT`) and on loops too near each other (`LOOPS_NEAR`). */
export function splitFindings(laid: LaidLoops, left: Leftover, profile: Profile): Finding[] {
  const findings: Finding[] = [];
  laid.divided.forEach(({ split }, part) => {
    if (!split) return;
    const own = laid.drafts.map((_, i) => i).filter((i) => laid.partOf[i] === part);
    const names = own.map((i) => laid.drafts[i]!.loop.name);
    const loads = own.map((i) => left.mown[i]!.areaM2);
    const stripM2 = split.strips.reduce((sum, strip) => sum + areaM2(strip), 0);
    findings.push({
      code: "LOOPS_SPLIT",
      severity: "warning",
      message: `${why(split, profile)} It is divided into ${names.length} loops (${range(names)}) of ${m2(Math.min(...loads))} to ${m2(Math.max(...loads))} of lawn, each with a station of its own.${split.wireEvened ? ` ${WIRE_EVENED}` : ""} ${enough(split, names.length, profile)} ${m2(stripM2)} lie between their wires, ${profile.loop.spacingM} m apart, and are left to the trimmer.`,
      remedy:
        "Buy a machine and a station for each loop, use a machine whose loop may be larger, or plan one loop with --no-split.",
      atM: interiorPoint(split.pieces[0]!),
    });
  });
  return [...findings, ...nearFindings(laid, profile)];
}

function why({ lawnM2, wireM }: Split, { loop }: Profile): string {
  const tooMuch = [
    ...(lawnM2 > loop.areaMaxM2 ? [`${m2(lawnM2)} of lawn (limit ${m2(loop.areaMaxM2)})`] : []),
    ...(wireM > loop.lengthMaxM ? [`${m(wireM)} of wire (limit ${m(loop.lengthMaxM)})`] : []),
  ];
  const what = tooMuch.length > 0 ? tooMuch.join(" and ") : `${m2(lawnM2)} and ${m(wireM)} of wire`;
  return `A part of the lawn would have ${what} in one loop, more than the profile allows.`;
}

function enough({ bound, more }: Split, loops: number, profile: Profile): string {
  const least = Math.max(bound.byArea, bound.byWire);
  const by = bound.byArea >= bound.byWire ? "its area" : "its rings of wire";
  if (loops <= least || !more) return `No fewer will do, by ${by}.`;
  return `By ${by} at least ${least} are needed; more, since ${reason(more, profile)}.`;
}

function reason({ loops, limit, value }: Breach, { loop }: Profile): string {
  const one = loops === 1 ? "one loop" : `one of ${loops} loops`;
  if (limit === "area")
    return `${one} would hold about ${over(value)} m² (limit ${m2(loop.areaMaxM2)})`;
  if (limit === "wire")
    return `${one} would have about ${over(value)} m of wire, paired runs and borders included (limit ${m(loop.lengthMaxM)})`;
  if (limit === "loads")
    return `${one} would hold ${over(100 * (value - 1))} % more lawn than another`;
  return `no straight cuts make ${loops} loops that hang together`;
}

/** Rounded up, so that it is seen to be over its limit. */
function over(value: number): string {
  return (Math.ceil(10 * value) / 10).toFixed(1);
}

function range(names: readonly string[]): string {
  return names.length < 4 ? names.join(", ") : `${names[0]} to ${names[names.length - 1]}`;
}

function nearFindings(laid: LaidLoops, profile: Profile): Finding[] {
  const { spacingM } = profile.loop;
  const wires = laid.drafts.map((draft) => [draft.loop.wire]);
  const near = pairsNearer(wires, spacingM - SPACING_TOLERANCE_M);
  const worst = [...near].sort((a, b) => a.distanceM - b.distanceM)[0];
  if (!worst) return [];
  const name = (loop: number): string => laid.drafts[loop]!.loop.name;
  const more = near.length > 1 ? ` (the nearest of ${near.length} such pairs)` : "";
  return [
    {
      code: "LOOPS_NEAR",
      severity: "warning",
      message: `The wires of loops ${name(worst.first)} and ${name(worst.second)} come within ${worst.distanceM.toFixed(2)} m of each other${more}; the profile wants ${spacingM} m between loops.`,
      remedy:
        "Give their stations different signals where the machine allows it, or move one wire further in there.",
      atM: worst.atM,
    },
  ];
}
