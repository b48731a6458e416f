/**
 * Names of loops and numbers of pegs as they were before, where the wire is a revision of an earlier
 * one: a peg that stays is the same peg on every list, and no number means two pegs.
 */
import { samePlaces } from "../geometry/same-places.ts";
import type { Loop } from "../model/plan.ts";
import { type NumberedLoop, SAME_PEG_M } from "../model/plan-options.ts";
import { loopName } from "./loop-name.ts";

/**
 * The names of loops: each has that of the earlier loop with which it shares most pegs; others the
 * next free one.
 *
 * @param loops as they would be named without an earlier plan
 * @returns a name for each, no two the same
 */
export function namesAsBefore(
  loops: readonly Loop[],
  before: readonly NumberedLoop[],
): readonly string[] {
  if (before.length === 0) return loops.map(({ name }) => name);
  const shared = loops.flatMap((loop, is) =>
    before.map((one, was) => {
      const places = one.pegs.map(({ atM }) => atM);
      const now = loop.pegs.map(({ atM }) => atM);
      return { is, was, pegs: samePlaces(places, now, SAME_PEG_M).filter((i) => i !== -1).length };
    }),
  );
  const names: (string | undefined)[] = loops.map(() => undefined);
  const taken = new Set<string>();
  for (const { is, was, pegs } of shared.sort((a, b) => b.pegs - a.pegs)) {
    const { name } = before[was]!;
    if (pegs === 0 || names[is] !== undefined || taken.has(name)) continue;
    names[is] = name;
    taken.add(name);
  }
  // The name of a loop that is gone is not given to another one.
  for (const { name } of before) taken.add(name);
  let next = 0;
  return names.map((name) => {
    if (name !== undefined) return name;
    while (taken.has(loopName(next))) next++;
    return loopName(next++);
  });
}

/**
 * A loop with its pegs numbered as before: those that stay keep their numbers, the others are numbered
 * in laying order from the first number that was never used.
 */
export function numberedAsBefore(loop: Loop, before: readonly NumberedLoop[]): Loop {
  const earlier = before.find(({ name }) => name === loop.name);
  if (!earlier) return loop;
  const was = samePlaces(
    earlier.pegs.map(({ atM }) => atM),
    loop.pegs.map(({ atM }) => atM),
    SAME_PEG_M,
  );
  let last = earlier.numberedTo;
  const pegs = loop.pegs.map((peg, i) => {
    const known = earlier.pegs[was[i]!]?.number;
    return { ...peg, number: known ?? `${loop.name}${++last}` };
  });
  const inOrder = pegs.every(({ number }, i) => number === `${loop.name}${i + 1}`);
  return inOrder && last === pegs.length ? loop : { ...loop, pegs, numberedTo: last };
}
