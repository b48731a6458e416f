import type { Xy } from "../plane.ts";
import { distance, insidePolygon } from "../segments.ts";
import { type Court, ofKind, positions, type SiteTruth } from "./types.ts";

const STEP_M = 0.02;

/**
 * No paired run and no guide wire lies where none may; boundary wire there is told. What the plan
 * itself tells (codes `RUN_IN_NO_WIRE`, `BOUNDARY_IN_NO_WIRE`) is no breach.
 */
export function judgeGround(court: Court, truth: SiteTruth): void {
  const told = (code: string): boolean =>
    ofKind(court, "finding").some((one) => one.properties?.code === code);
  for (const polygon of truth.noWire ?? []) {
    const rings = polygon.map((ring) => ring.map((at) => court.plane.toPlane(at)));
    const runs = [...ofKind(court, "paired-run"), ...ofKind(court, "guide-wire")];
    for (const run of runs) {
      const line = positions(run).map((at) => court.plane.toPlane(at));
      const { lengthM, first } = lengthIn(line, rings);
      if (lengthM === 0 || told("RUN_IN_NO_WIRE")) continue;
      court.breach("run-in-barred-ground", {
        loop: run.properties?.loop,
        at: first!,
        measured: lengthM,
        allowed: 0,
      });
    }
    for (const loop of court.loops) {
      const { lengthM, first } = lengthIn(loop.wire, rings);
      if (lengthM < 0.05 || told("BOUNDARY_IN_NO_WIRE") || told("RUN_IN_NO_WIRE")) continue;
      court.breach("wire-in-barred-ground", {
        loop: loop.name,
        at: first!,
        measured: lengthM,
        allowed: 0,
      });
    }
  }
}

/** Length of a line within a polygon, by samples. */
function lengthIn(
  line: readonly Xy[],
  rings: readonly (readonly Xy[])[],
): { lengthM: number; first: Xy | undefined } {
  let lengthM = 0;
  let first: Xy | undefined;
  for (let i = 1; i < line.length; i++) {
    const [a, b] = [line[i - 1]!, line[i]!];
    const steps = Math.max(1, Math.ceil(distance(a, b) / STEP_M));
    for (let k = 0; k < steps; k++) {
      const share = (k + 0.5) / steps;
      const at: Xy = [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])];
      if (!insidePolygon(at, rings)) continue;
      lengthM += distance(a, b) / steps;
      first ??= at;
    }
  }
  return { lengthM, first };
}
