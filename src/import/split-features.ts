const [TAB, LINE_FEED, RETURN, SPACE] = [0x09, 0x0a, 0x0d, 0x20];
const [QUOTE, BACKSLASH, COMMA, COLON] = [0x22, 0x5c, 0x2c, 0x3a];
const [OPEN_LIST, CLOSE_LIST, OPEN_OBJECT, CLOSE_OBJECT] = [0x5b, 0x5d, 0x7b, 0x7d];
const FEATURES = [...'"features"'].map((letter) => letter.charCodeAt(0));

/** A FeatureCollection taken apart without parsing it. */
export interface SplitFeatures {
  /** First byte and byte after the last of each feature, one after the other. */
  readonly bounds: readonly number[];
  /** The text around them, with an empty list of features. */
  readonly frame: Uint8Array;
}

function isBlank(byte: number): boolean {
  return byte === SPACE || byte === LINE_FEED || byte === RETURN || byte === TAB;
}

/** Index of the quote that closes a string, or -1. */
function stringEnd(bytes: Uint8Array, open: number): number {
  for (let end = bytes.indexOf(QUOTE, open + 1); end >= 0; end = bytes.indexOf(QUOTE, end + 1)) {
    let escapes = 0;
    while (bytes[end - 1 - escapes] === BACKSLASH) escapes++;
    if (escapes % 2 === 0) return end;
  }
  return -1;
}

function isFeaturesKey(bytes: Uint8Array, start: number, end: number): boolean {
  return (
    end - start + 1 === FEATURES.length && FEATURES.every((byte, i) => bytes[start + i] === byte)
  );
}

/**
 * Where the features of a FeatureCollection lie in its UTF-8 text, in one pass over the bytes, so that
 * they can be parsed one by one and a large file never stands in memory as a whole tree.
 *
 * `"deep"` where anything is nested deeper than `nestingMax`; undefined where the text is not plainly
 * an object with one list of objects named `features`: then it has to be parsed whole, which also
 * finds what is wrong with it. Brackets are counted, not matched: the parser does that.
 */
export function splitFeatures(
  bytes: Uint8Array,
  nestingMax: number,
): SplitFeatures | "deep" | undefined {
  const bounds: number[] = [];
  let [depth, keyStart, keyEnd] = [0, -1, -1];
  let [listStart, listEnd] = [-1, -1];
  let inFeatures = false;
  let needsComma = false;
  for (let at = 0; at < bytes.length; at++) {
    const byte = bytes[at]!;
    if (byte > QUOTE && byte !== COMMA && byte < OPEN_LIST && byte !== COLON) {
      if (inFeatures && depth === 2) return undefined;
      continue; // Digits, signs and points: most of the file.
    }
    if (byte === QUOTE) {
      if (inFeatures && depth === 2) return undefined;
      const end = stringEnd(bytes, at);
      if (end < 0) return undefined;
      if (depth === 1) [keyStart, keyEnd] = [at, end];
      at = end;
    } else if (byte === OPEN_LIST || byte === OPEN_OBJECT) {
      if (depth === 1 && byte === OPEN_LIST && isFeaturesKey(bytes, keyStart, keyEnd)) {
        if (listStart >= 0) return undefined;
        listStart = at;
        inFeatures = true;
      } else if (inFeatures && depth === 2) {
        if (byte === OPEN_LIST || needsComma) return undefined;
        bounds.push(at);
      }
      if (++depth > nestingMax) return "deep";
    } else if (byte === CLOSE_LIST || byte === CLOSE_OBJECT) {
      depth--;
      if (inFeatures && depth === 2) {
        bounds.push(at + 1);
        needsComma = true;
      } else if (inFeatures && depth === 1) {
        if (bounds.length > 0 && !needsComma) return undefined; // A comma before the end.
        listEnd = at;
        inFeatures = false;
        keyStart = keyEnd = -1;
      }
    } else if (inFeatures && depth === 2) {
      if (byte === COMMA) {
        if (!needsComma) return undefined;
        needsComma = false;
      } else if (!isBlank(byte)) return undefined;
    } else if (byte === COMMA && depth === 1) {
      keyStart = keyEnd = -1;
    }
  }
  if (listEnd < 0) return undefined;
  const tail = bytes.subarray(listEnd);
  const frame = new Uint8Array(listStart + 1 + tail.length);
  frame.set(bytes.subarray(0, listStart + 1));
  frame.set(tail, listStart + 1);
  return { bounds, frame };
}
