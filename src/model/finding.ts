import type { LonLat, PointM } from "./geometry.ts";

/** How much a finding matters: `error` means that the result must not be laid as it stands. */
export type Severity = "info" | "warning" | "error";

/** Where in the inputs something was found. */
export interface SourceRef {
  /** File name as the user gave it. */
  readonly file?: string;
  /** Layer, KML folder path or shapefile name. */
  readonly layer?: string;
  /** Feature name, id or 1-based number, e.g. `"Pond"` or `"#12"`. */
  readonly feature?: string;
  /** 1-based place in its layer, which names it for certain; never written with a finding. */
  readonly number?: number;
}

/** Something that the user must know: a repair, an assumption, a skip, a breach. Never a crash. */
export interface Finding extends SourceRef {
  /** Stable code in capitals, e.g. `RING_SELF_CROSSES`; each has an entry in docs/findings.md. */
  readonly code: string;
  readonly severity: Severity;
  /** What is so, with figures and units, in plain words. */
  readonly message: string;
  /** What to do about it. */
  readonly remedy: string;
  /** Place in the site grid, metres. */
  readonly atM?: PointM;
  /** Place in degrees, WGS 84. Filled from `atM` once the site grid is known. */
  readonly at?: LonLat;
}

/** A reason why the work cannot go on. Kinds map to exit codes in the command line (see docs). */
export interface Problem extends SourceRef {
  readonly code: string;
  /** `usage`: wrong use (exit 2); `input`: an input is unreadable or unusable (exit 3). */
  readonly kind: "usage" | "input";
  /** 1-based line of the file, where it is known. */
  readonly line?: number;
  /** Keys from the root of a JSON file, e.g. `lawns.least_area_m2`. */
  readonly path?: string;
  readonly message: string;
  readonly remedy: string;
}

/** Result of a step that can fail: a value or a problem, and in both cases what was noticed. */
export type Outcome<T> =
  | { readonly ok: true; readonly value: T; readonly findings: readonly Finding[] }
  | { readonly ok: false; readonly problem: Problem; readonly findings: readonly Finding[] };

export function done<T>(value: T, findings: readonly Finding[] = []): Outcome<T> {
  return { ok: true, value, findings };
}

export function failed<T>(problem: Problem, findings: readonly Finding[] = []): Outcome<T> {
  return { ok: false, problem, findings };
}
