import { shownText } from "./hidden.ts";

/**
 * The value of a text group (code 1) of a DXF drawing's TEXT and ATTRIB. A value is one line of the
 * file, so that a break in it would begin a new group: breaks become spaces. `%%` begins a code (a
 * percent sign is `%%%`), `^` a control character (a caret is `^ `), `\U+XXXX` is a character by its
 * number, which also writes a backslash and whatever is not ASCII, for drawings of any version.
 */
export function dxfText(text: string): string {
  return shownText(text)
    .replace(/%+/g, (run) => (run.length === 1 ? run : "%%%".repeat(run.length)))
    .replace(/\^/g, "^ ")
    .replace(/[^\x20-\x5b\x5d-\x7e]/g, byNumber);
}

/** The same for MTEXT, in which backslash and braces format and are escaped by a backslash. */
export function dxfParagraph(text: string): string {
  return text
    .split(/\r\n|[\r\n]/)
    .map((line) =>
      shownText(line)
        .replace(/[\\{}]/g, "\\$&")
        .replace(/%+/g, (run) => (run.length === 1 ? run : "%%%".repeat(run.length)))
        .replace(/\^/g, "^ ")
        .replace(/[^\x20-\x7e]/g, byNumber),
    )
    .join("\\P");
}

/** Longest text of one group of extended data, characters; the format has 255. */
const DATA_LENGTH_MAX = 250;

/**
 * A value as JSON for the extended data of an entity (groups 1000), cut into pieces that together are
 * the text. All of it is plain ASCII, without carets and backslashes that a reader takes for codes of
 * its own, and no piece begins or ends with a space, which some readers cut off.
 */
export function dxfData(value: unknown): string[] {
  const text = JSON.stringify(value)
    .replace(/\\\\/g, "\\u005c")
    .replace(/[^\x20-\x7e]|[%^]/g, (unit) => asJsonUnit(unit.charCodeAt(0)));
  const pieces: string[] = [];
  for (let at = 0; at < text.length; at += DATA_LENGTH_MAX) {
    const piece = text.slice(at, at + DATA_LENGTH_MAX);
    pieces.push(piece.replace(/^ | $/g, () => asJsonUnit(0x20)));
  }
  return pieces;
}

const asJsonUnit = (unit: number) => `\\u${unit.toString(16).padStart(4, "0")}`;

/** Longest name of a layer, style or block; characters that none may hold. */
const NAME_LENGTH_MAX = 255;
const NOT_IN_NAMES = /[<>/\\":;?*|=,'`^%]/g;

/** A name for a layer, style or block; never empty. */
export function dxfName(text: string, fallback: string): string {
  const name = shownText(text).replace(NOT_IN_NAMES, "_").trim();
  const units = name.replace(/[^\x20-\x7e]/g, byNumber);
  // Cut before a number begins, not inside one.
  return units.slice(0, NAME_LENGTH_MAX).replace(/\\(?:U(?:\+[0-9A-F]{0,3})?)?$/, "") || fallback;
}

const byNumber = (unit: string) =>
  `\\U+${unit.charCodeAt(0).toString(16).toUpperCase().padStart(4, "0")}`;
