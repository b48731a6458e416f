/** What a rule gives back: a figure against what is allowed, and every breach with its place. */
import type { PointM } from "../model/geometry.ts";
import type { RuleId } from "./rule-ids.ts";

export interface Breach {
  /** What is wrong, with figures and units. */
  readonly message: string;
  readonly remedy: string;
  readonly atM?: PointM | undefined;
}

/** One line of the table: measured against allowed. */
export interface Measure {
  readonly rule: RuleId;
  /** In words, for people. */
  readonly title: string;
  readonly unit: "m" | "m²" | "count";
  /** `at least` or `at most` what is allowed. */
  readonly bound: "at least" | "at most";
  /** Null where it is not measured. */
  readonly measured: number | null;
  /** Null where nothing is asked. */
  readonly allowed: number | null;
  /** Null where it is not measured. */
  readonly holds: boolean | null;
  /** Why it is not measured, or what the figure does not cover. */
  readonly note?: string | undefined;
  readonly breaches: readonly Breach[];
}

export type MeasureOf = Omit<Measure, "rule" | "title">;

export function notMeasured(
  unit: Measure["unit"],
  bound: Measure["bound"],
  why: string,
): MeasureOf {
  return { unit, bound, measured: null, allowed: null, holds: null, note: why, breaches: [] };
}

/** A figure and its breaches; it holds where there are none. A figure that is no number is none. */
export function measured(
  unit: Measure["unit"],
  bound: Measure["bound"],
  figure: number,
  allowed: number | null,
  breaches: readonly Breach[],
  note?: string,
): MeasureOf {
  const measured = Number.isFinite(figure) ? figure : null;
  return { unit, bound, measured, allowed, holds: breaches.length === 0, note, breaches };
}

/** A place where something is off by an amount: the larger, the worse. */
export interface Place<T = unknown> {
  readonly atM: PointM;
  readonly amount: number;
  readonly of: T;
}

/** Places that are too near to each other to be told apart are one, metres. */
const APART_M = 1;

/** The worst places, each a metre from all worse ones: a crew wants places, not vertices. */
export function worstPlaces<T>(places: readonly Place<T>[]): Place<T>[] {
  const kept = new Map<string, Place<T>>();
  for (const place of [...places].sort((a, b) => b.amount - a.amount)) {
    const [column, row] = place.atM.map((x) => Math.floor(x / APART_M)) as [number, number];
    let near = false;
    for (let c = column - 1; c <= column + 1 && !near; c++) {
      for (let r = row - 1; r <= row + 1 && !near; r++) {
        const other = kept.get(`${c} ${r}`);
        near = other !== undefined && apartM(other.atM, place.atM) < APART_M;
      }
    }
    const key = `${column} ${row}`;
    if (!near && !kept.has(key)) kept.set(key, place);
  }
  return [...kept.values()];
}

/** A stated length in a sentence; what a library states may be no number. */
export function statedM(valueM: number): string {
  return Number.isFinite(valueM) ? `${valueM.toFixed(3)} m` : "no number";
}

export function apartM(a: PointM, b: PointM): number {
  return Math.hypot(a[0] - b[0], a[1] - b[1]);
}
