/** Where wire lies on ground that runs should keep off: measured on the ground as drawn, and told. */
import { type CostArea, CostGround } from "../geometry/cost-ground.ts";
import { boxOf, toPoints } from "../geometry/rings.ts";
import type { Finding } from "../model/finding.ts";
import type { LineM, PointM, RingM } from "../model/geometry.ts";
import type { Profile } from "../model/profile.ts";
import type { RunGround } from "../model/run-ground.ts";
import type { LoopDraft } from "./loop.ts";
import { groundNear, NO_WIRE_CLEARANCE_M, stationFront } from "./run-ground.ts";

/** Less than this in an area is no matter, metres. */
const LEAST_M = 0.01;

/** How much of some wire lies in an area, and where most of it in one stretch. */
interface Stretch {
  readonly lengthM: number;
  readonly atM: PointM;
}

/** Findings of one loop: boundary wire and paired runs on ground that is barred or dearer. */
export function groundFindings(
  draft: LoopDraft,
  drawn: readonly RunGround[],
  profile: Profile,
): Finding[] {
  const { loop, inside, station } = draft;
  const rings = [inside.shell, ...inside.holes];
  const near = groundNear(drawn, inside.shell);
  const findings: Finding[] = [];
  for (const one of near.filter(({ factor }) => factor === "barred")) {
    const found = inArea(rings.map(closed), one);
    if (found) findings.push(boundaryInNoWire(loop.name, one, found));
  }
  const all = [...near, ...stationFront(inside.shell, station, profile)];
  for (const run of loop.pairedRuns) {
    for (const one of groundNear(all, run.line)) {
      const found = inArea([run.line], one);
      if (!found) continue;
      const between = `from ${run.from} to ${run.to} of loop ${loop.name}`;
      if (one.factor === "barred") findings.push(runInNoWire(between, one, found));
      else if (one.why === "paving") findings.push(runCrossesPaving(between, one, found));
      else findings.push(runOnDearGround(between, one, found));
    }
  }
  return findings;
}

/** What a run with bends is led round, by name; empty where it is something else. */
export function ledRound(line: LineM, drawn: readonly RunGround[]): string[] {
  const bends = toPoints(line).slice(1, -1);
  const names = groundNear(drawn, line).flatMap(({ area, name }) => {
    const ground = new CostGround([{ area, factor: 2 }]);
    const reach = 2 * NO_WIRE_CLEARANCE_M;
    return bends.some(([e, n]) => ground.borders.nearest(e, n, reach)) ? [name] : [];
  });
  return [...new Set(names)];
}

function closed(ring: RingM): LineM {
  return Float64Array.from([...ring, ring[0]!, ring[1]!]);
}

function inArea(lines: readonly LineM[], { area }: RunGround): Stretch | undefined {
  const costly: CostArea = { area, factor: 2 };
  const ground = new CostGround([costly]);
  const box = boxOf(area.shell);
  let lengthM = 0;
  let longest: Stretch | undefined;
  let current: Stretch | undefined;
  for (const line of lines) {
    for (let i = 0; i + 3 < line.length; i += 2) {
      const a: PointM = [line[i]!, line[i + 1]!];
      const b: PointM = [line[i + 2]!, line[i + 3]!];
      if (Math.min(a[0], b[0]) > box.maxE || Math.max(a[0], b[0]) < box.minE) continue;
      if (Math.min(a[1], b[1]) > box.maxN || Math.max(a[1], b[1]) < box.minN) continue;
      const whole = Math.hypot(b[0] - a[0], b[1] - a[1]);
      for (const { from, to, factor } of ground.stretches(a, b)) {
        if (factor === 1) {
          current = undefined;
          continue;
        }
        const middle = (from + to) / 2;
        const partM = (to - from) * whole;
        lengthM += partM;
        current = {
          lengthM: (current?.lengthM ?? 0) + partM,
          atM: current?.atM ?? [a[0] + middle * (b[0] - a[0]), a[1] + middle * (b[1] - a[1])],
        };
        if (!longest || current.lengthM > longest.lengthM) longest = current;
      }
    }
    current = undefined;
  }
  return longest && lengthM >= LEAST_M ? { lengthM, atM: longest.atM } : undefined;
}

const m = (value: number, decimals = 2): string => value.toFixed(decimals);

function boundaryInNoWire(loop: string, { name, source }: RunGround, found: Stretch): Finding {
  return {
    code: "BOUNDARY_IN_NO_WIRE",
    severity: "warning",
    message: `${m(found.lengthM)} m of the boundary wire of loop ${loop} lie in ${name}, where no wire is wanted: it reaches the edge that the wire follows.`,
    remedy:
      "Draw the area clear of the lawn's edge and of islands by their set-in, give it the role keep-out so that the wire goes round it, or lay these metres in a duct.",
    atM: found.atM,
    ...source,
  };
}

function runInNoWire(between: string, { name, source }: RunGround, found: Stretch): Finding {
  return {
    code: "RUN_IN_NO_WIRE",
    severity: "error",
    message: `The paired run ${between} lies for ${m(found.lengthM)} m in ${name}, where no wire may lie: no other way leads there, and this one has the least of it.`,
    remedy: `Leave a gap of ${m(2 * NO_WIRE_CLEARANCE_M)} m or more through the area for the run, join the island to the lawn's edge, or allow these metres by taking wire = no off the area.`,
    atM: found.atM,
    ...source,
  };
}

function runCrossesPaving(between: string, { factor }: RunGround, found: Stretch): Finding {
  return {
    code: "RUN_CROSSES_PAVING",
    severity: "info",
    message: `The paired run ${between} crosses ${m(found.lengthM)} m of flush paving, which counts ${factor} times as much as lawn; any way round costs more.`,
    remedy:
      "Lay both wires in a cut or a joint of the paving; give the paving wire = no to keep them out, or set wire.run_cost_paving.",
    atM: found.atM,
  };
}

function runOnDearGround(between: string, ground: RunGround, found: Stretch): Finding {
  const { name, factor, source } = ground;
  return {
    code: "RUN_ON_DEAR_GROUND",
    severity: "info",
    message: `The paired run ${between} lies for ${m(found.lengthM)} m in ${name}, which counts ${factor} times as much as lawn; any way round costs more.`,
    remedy: `Nothing; a higher cost${ground.why === "station" ? " (wire.run_cost_station)" : ""} leads it further round, wire = no keeps it out.`,
    atM: found.atM,
    ...source,
  };
}

/** A guide wire that found no way clear of ground without wire. */
export function guideLeftOut(loop: string, atM: PointM): Finding {
  return {
    code: "GUIDE_LEFT_OUT",
    severity: "warning",
    message: `Loop ${loop} has no guide wire: areas where no wire may lie leave it no way out of the station.`,
    remedy: "Move the station, or draw the area clear of the lawn in front of it.",
    atM,
  };
}
