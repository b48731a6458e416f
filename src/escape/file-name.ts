import { REPLACEMENT, shownText } from "./hidden.ts";

/** Bytes of UTF-8; file systems take 255, and an ending or a number may be put behind. */
const NAME_BYTES_MAX = 200;

/** Not in names on Windows; separators everywhere. */
const RESERVED_CHARACTERS = /[<>:"/\\|?*]/g;

/** Names of devices on Windows, with any ending ("Naming Files, Paths, and Namespaces"). */
const DEVICES = /^(?:con|prn|aux|nul|conin\$|conout\$|com[0-9¹²³]|lpt[0-9¹²³])\s*(?:\.|$)/i;

/**
 * A name for a file or folder out of a name from an input, fit for every usual system: no
 * separators, no reserved names, no hidden files, no options, no trailing dots or spaces.
 *
 * @param fallback what to take where nothing is left
 */
export function fileName(text: string, fallback: string): string {
  const plain = shownText(text.normalize("NFC"))
    .replaceAll(REPLACEMENT, "_")
    .replace(RESERVED_CHARACTERS, "_")
    .replace(/^[\s.~-]+/, "");
  const name = withinBytes(plain).replace(/[\s.]+$/, "");
  if (name === "") return fallback;
  return DEVICES.test(name) ? `_${name}` : name;
}

/** The same for several that lie in one folder: a number behind those that differ in case at most. */
export function fileNames(texts: readonly string[], fallback: string): string[] {
  const taken = new Set<string>();
  return texts.map((text) => {
    const first = fileName(text, fallback);
    let name = first;
    for (let n = 2; taken.has(folded(name)); n++) name = `${first}-${n}`;
    taken.add(folded(name));
    return name;
  });
}

/** File systems that ignore case and ways of writing accents take such names for one. */
const folded = (name: string) => name.normalize("NFKC").toUpperCase().toLowerCase();

function withinBytes(name: string): string {
  const bytes = new TextEncoder().encode(name);
  if (bytes.length <= NAME_BYTES_MAX) return name;
  const cut = new TextDecoder().decode(bytes.slice(0, NAME_BYTES_MAX));
  return cut.replace(/\ufffd+$/, "");
}
