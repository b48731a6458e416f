import type { Point3 } from "../chords.ts";

/** A group code and its number, as DXF writes them. */
export type Group = readonly [code: number, value: number];

/** Walks through the groups of an entity in the order in which they stand. */
export class GroupCursor {
  at = 0;
  readonly #groups: readonly Group[];

  constructor(groups: readonly Group[]) {
    this.#groups = groups;
  }

  get code(): number | undefined {
    return this.#groups[this.at]?.[0];
  }

  codeAfter(steps: number): number | undefined {
    return this.#groups[this.at + steps]?.[0];
  }

  get value(): number {
    return this.#groups[this.at]?.[1] ?? Number.NaN;
  }

  /** Whether the next group bears the code. */
  is(code: number): boolean {
    return this.code === code;
  }

  /** The value of the next group if it bears this code, which is then passed; else the fallback. */
  take(code: number, fallback = Number.NaN): number {
    if (this.code !== code) return fallback;
    const { value } = this;
    this.at++;
    return value;
  }

  /** Passes groups until one bears the code; false where none does. */
  seek(code: number): boolean {
    while (this.code !== undefined && this.code !== code) this.at++;
    return this.code === code;
  }
}

/** The value of the first group with this code. */
export function numberOf(groups: readonly Group[], code: number, fallback = Number.NaN): number {
  return groups.find(([each]) => each === code)?.[1] ?? fallback;
}

/** The direction in which an entity's plane faces (groups 210, 220, 230); up where not given. */
export function facingOf(groups: readonly Group[]): Point3 {
  return [numberOf(groups, 210, 0), numberOf(groups, 220, 0), numberOf(groups, 230, 1)];
}
