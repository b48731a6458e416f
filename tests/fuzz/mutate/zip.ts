/** Mutations of archives: of what is in them, packed anew, and of what their lists say. */
import { unzipSync, zipSync } from "fflate";
import type { Chance } from "../random.ts";
import { BYTE_MUTATIONS, type ByteMutation, within } from "./bytes.ts";

/** An archive of the same entries with one of them changed, renamed, repeated or left out. */
export function repacked(
  changeEntry: (name: string, bytes: Uint8Array, chance: Chance) => Uint8Array,
): ByteMutation {
  return (bytes, chance, other) => {
    const entries = entriesOf(bytes);
    const names = [...entries.keys()];
    if (names.length === 0) return bytes;
    const name = chance.pick(names);
    const old = entries.get(name)!;
    switch (chance.int(8)) {
      case 0:
        entries.delete(name);
        break;
      case 1:
        entries.delete(name);
        entries.set(chance.pick(NAMES) + name.slice(name.lastIndexOf(".")), old);
        break;
      case 2:
        entries.set(chance.pick(NAMES) + chance.pick(ENDINGS), old);
        break;
      case 3:
        for (const [theirs, part] of entriesOf(other)) entries.set(theirs, part);
        break;
      case 4:
        // A bomb in small: much of one byte, which packs a thousand to one.
        entries.set(name, new Uint8Array(chance.int(chance.oneIn(200) ? 20_000_000 : 200_000)));
        break;
      default:
        entries.set(name, changeEntry(name, old, chance));
    }
    try {
      return zipSync(Object.fromEntries(entries), { level: chance.pick([0, 6]) });
    } catch {
      return bytes;
    }
  };
}

const NAMES = [
  "../a",
  "/a",
  "C:\\a",
  "a/b/c",
  "",
  "__proto__",
  "é",
  "a\u0000b",
  "A",
  "x".repeat(300),
];
const ENDINGS = [".shp", ".dbf", ".prj", ".cpg", ".kml", ".kmz", ".zip", ""];

/** Entries small enough to be unpacked here; none where the archive is broken. */
function entriesOf(bytes: Uint8Array): Map<string, Uint8Array> {
  try {
    const files = unzipSync(bytes, { filter: ({ originalSize }) => originalSize < 1_000_000 });
    return new Map(Object.entries(files));
  } catch {
    return new Map();
  }
}

const CENTRAL = "PK\u0001\u0002";
const LOCAL = "PK\u0003\u0004";
const END = "PK\u0005\u0006";

/** Sizes, offsets, counts, methods and names as the archive's lists have them. */
export const attackLists: ByteMutation = within([CENTRAL, CENTRAL, LOCAL, END], 46);

/** Compressed data broken anywhere. */
export const attackPacked: ByteMutation = (bytes, chance, other) =>
  chance.pick(BYTE_MUTATIONS)(bytes, chance, other);
