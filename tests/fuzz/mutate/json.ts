/** Mutations of JSON as a tree: parse, change, write. */
import type { Chance } from "../random.ts";
import type { TextMutation } from "./text.ts";

type Json = null | boolean | number | string | Json[] | { [key: string]: Json };

/** A place in the tree: its holder and key. */
interface Slot {
  readonly holder: Json[] | { [key: string]: Json };
  readonly key: string;
}

const SLOTS_MAX = 3000;

function slotsOf(root: Json): Slot[] {
  const slots: Slot[] = [];
  const waiting: Json[] = [root];
  while (waiting.length > 0 && slots.length < SLOTS_MAX) {
    const holder = waiting.pop()!;
    if (typeof holder !== "object" || holder === null) continue;
    for (const key of Object.keys(holder)) {
      slots.push({ holder, key });
      waiting.push((holder as Record<string, Json>)[key]!);
    }
  }
  return slots;
}

const at = ({ holder, key }: Slot): Json => (holder as Record<string, Json>)[key]!;

function put({ holder, key }: Slot, value: Json): void {
  Object.defineProperty(holder, key, {
    value,
    enumerable: true,
    writable: true,
    configurable: true,
  });
}

const ODD_VALUES: readonly Json[] = [
  null,
  true,
  false,
  0,
  -0,
  1e308,
  -1e-320,
  180,
  90.0000001,
  1e9,
  "",
  "0",
  "NaN",
  [],
  {},
  [[]],
  [null],
  [[[[[1]]]]],
  [0, 0],
  [180, 90, "x"],
  { type: "Point", coordinates: [] },
  { type: "Polygon", coordinates: [[]] },
  { type: "GeometryCollection", geometries: [null] },
  { type: "MultiPolygon", coordinates: [[[[0, 0]]]] },
];

function change(root: Json, other: Json, chance: Chance, words: readonly string[]): void {
  const slots = slotsOf(root);
  if (slots.length === 0) return;
  const slot = chance.pick(slots);
  const value = at(slot);
  switch (chance.int(10)) {
    case 0:
      if (Array.isArray(slot.holder)) slot.holder.splice(Number(slot.key), 1);
      else delete slot.holder[slot.key];
      break;
    case 1:
      put(slot, structuredClone(chance.pick(ODD_VALUES)));
      break;
    case 2:
      put(slot, structuredClone(at(chance.pick(slots))));
      break;
    case 3: {
      const theirs = slotsOf(other);
      if (theirs.length > 0) put(slot, structuredClone(at(chance.pick(theirs))));
      break;
    }
    case 4:
      put(slot, chance.pick(words));
      break;
    case 5:
      if (Array.isArray(slot.holder)) {
        const copies = Array.from(
          { length: chance.size(chance.oneIn(20) ? 2000 : 6) },
          () => value,
        );
        slot.holder.splice(Number(slot.key), 0, ...copies);
      } else {
        put({ holder: slot.holder, key: chance.pick(words) }, value);
      }
      break;
    case 6:
      put(slot, chance.oneIn(2) ? [value] : { [chance.pick(words)]: value });
      break;
    case 7:
      if (Array.isArray(value)) value.sort(() => chance.next() - 0.5);
      else if (typeof value === "number") put(slot, value * 10 ** (chance.int(9) - 4));
      else put(slot, JSON.stringify(value));
      break;
    default: {
      // Coordinates are what most of the way deals with: move one, by a little or by much.
      const numbers = slots.filter((one) => typeof at(one) === "number");
      if (numbers.length === 0) return;
      const one = chance.pick(numbers);
      const old = at(one) as number;
      const moved = old + (chance.next() - 0.5) * 10 ** (chance.int(8) - 7);
      put(one, chance.oneIn(3) ? at(chance.pick(numbers)) : moved);
    }
  }
}

function parse(text: string): Json | undefined {
  try {
    return JSON.parse(text) as Json;
  } catch {
    return undefined;
  }
}

/** Changes the tree in one to three places. Text that is no JSON is left alone. */
export const changeJson: TextMutation = (text, chance, other, words) => {
  const root = parse(text);
  if (root === undefined) return text;
  const theirs = parse(other) ?? null;
  for (let n = chance.size(4); n > 0; n--) change(root, theirs, chance, words);
  return JSON.stringify(root);
};

/** The same on one line of a sequence. */
export const changeJsonLine: TextMutation = (text, chance, other, words) => {
  const lines = text.split("\n");
  const n = chance.int(lines.length);
  const mark = lines[n]!.startsWith("\u001e") ? "\u001e" : "";
  lines[n] = mark + changeJson(lines[n]!.slice(mark.length), chance, other.split("\n")[0]!, words);
  return lines.join("\n");
};
