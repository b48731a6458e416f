/** Mutations heaped on each other, and which of a file's parts they change. */
import { BYTE_MUTATIONS, type ByteMutation } from "./mutate/bytes.ts";
import { encoded, TEXT_MUTATIONS, type TextMutation } from "./mutate/text.ts";
import type { Chance } from "./random.ts";
import type { Parts } from "./seeds.ts";

export const text = (bytes: Uint8Array): string => new TextDecoder().decode(bytes);
export const bytesOf = (content: string): Uint8Array => new TextEncoder().encode(content);

/** How many mutations are heaped on each other: one in most cases, so that most files stay readable. */
function howMany(chance: Chance): number {
  return chance.oneIn(3) ? chance.size(8) : 1;
}

/** Mutations of a text: most by its structure, some of its letters, some of its bytes. */
export function changeText(
  structure: readonly TextMutation[],
  words: readonly string[],
): (bytes: Uint8Array, other: Uint8Array, chance: Chance) => Uint8Array {
  return (bytes, other, chance) => {
    if (chance.oneIn(6)) return changeBytes(BYTE_MUTATIONS)(bytes, other, chance);
    let changed = text(bytes);
    const theirs = text(other);
    for (let n = howMany(chance); n > 0; n--) {
      const change = chance.oneIn(2) ? chance.pick(structure) : chance.pick(TEXT_MUTATIONS);
      changed = change(changed.slice(0, 200_000), chance, theirs, words);
    }
    return encoded(changed, chance);
  };
}

export function changeBytes(
  mutations: readonly ByteMutation[],
): (bytes: Uint8Array, other: Uint8Array, chance: Chance) => Uint8Array {
  return (bytes, other, chance) => {
    let changed = bytes;
    for (let n = howMany(chance); n > 0; n--)
      changed = chance.pick(mutations)(changed, chance, other);
    return changed;
  };
}

export type ChangePart = (bytes: Uint8Array, other: Uint8Array, chance: Chance) => Uint8Array;

/** Changes one of a file's parts, now and then another or leaves one out. */
export function onePart(changes: Readonly<Record<string, ChangePart>>, main: string) {
  return (parts: Parts, other: Parts, chance: Chance): Parts => {
    const result: Record<string, Uint8Array> = { ...parts };
    const endings = Object.keys(parts);
    for (let n = chance.oneIn(2) ? 1 : chance.size(3); n > 0; n--) {
      const ending = chance.oneIn(2) ? main : chance.pick(endings);
      const [mine, theirs] = [result[ending], other[ending]];
      const fate = ending === main ? 0 : chance.int(12);
      if (fate === 1) delete result[ending];
      else if (fate === 2 && theirs) result[ending] = theirs;
      else if (mine) result[ending] = changes[ending]!(mine, theirs ?? mine, chance);
    }
    return result;
  };
}

/** Mutations of the first bytes alone, where the counts and lengths of a format lie. */
export function headOf(reach: number): ByteMutation {
  return (bytes, chance, other) => {
    const head = chance.pick(BYTE_MUTATIONS)(bytes.slice(0, reach), chance, other.slice(0, reach));
    const all = new Uint8Array(head.length + Math.max(0, bytes.length - reach));
    all.set(head);
    all.set(bytes.subarray(reach), head.length);
    return all;
  };
}
