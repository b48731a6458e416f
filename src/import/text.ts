/** Bytes to text, and what kind of text it is. */

/** Decoded text, and the encoding that was taken where it was not UTF-8. */
export interface DecodedText {
  readonly text: string;
  readonly assumed?: string;
}

/**
 * UTF-8 or UTF-16 by byte order mark, else UTF-8, else (where the bytes are no UTF-8) Windows-1252.
 * The byte order mark is taken off.
 */
export function decodeText(bytes: Uint8Array): DecodedText {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) {
    return { text: new TextDecoder("utf-16le").decode(bytes) };
  }
  if (bytes[0] === 0xfe && bytes[1] === 0xff) {
    return { text: new TextDecoder("utf-16be").decode(bytes) };
  }
  try {
    return { text: new TextDecoder("utf-8", { fatal: true }).decode(bytes) };
  } catch {
    return { text: new TextDecoder("windows-1252").decode(bytes), assumed: "Windows-1252" };
  }
}

/** Bytes looked at at a time, so that no long string is made only to be thrown away. */
const STEP_BYTES = 65_536;

function isUtf8(bytes: Uint8Array): boolean {
  const decoder = new TextDecoder("utf-8", { fatal: true });
  try {
    for (let at = 0; at < bytes.length; at += STEP_BYTES) {
      decoder.decode(bytes.subarray(at, at + STEP_BYTES), { stream: true });
    }
    decoder.decode();
    return true;
  } catch {
    return false;
  }
}

/** The text as UTF-8 without byte order mark; the same bytes where they are that already. */
export function asUtf8(bytes: Uint8Array): Uint8Array {
  const isMarked = bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf;
  const plain = isMarked ? bytes.subarray(3) : bytes;
  return isUtf8(plain) ? plain : new TextEncoder().encode(decodeText(bytes).text);
}

/** The first characters, for telling formats apart. */
export function headOf(bytes: Uint8Array, length = 2048): string {
  const start = bytes.subarray(0, length);
  if (start[0] === 0xff && start[1] === 0xfe) return new TextDecoder("utf-16le").decode(start);
  if (start[0] === 0xfe && start[1] === 0xff) return new TextDecoder("utf-16be").decode(start);
  return new TextDecoder("utf-8").decode(start);
}

/**
 * Offset of the first mark-up that is neither white space, a byte order mark, a comment nor a
 * processing instruction. One pass: a pattern with repeats could be made to run for ever.
 */
export function afterProlog(text: string): number {
  let at = 0;
  for (;;) {
    while (at < text.length && (text[at]!.trim() === "" || text[at] === "\uFEFF")) at++;
    const close = text.startsWith("<?", at)
      ? "?>"
      : text.startsWith("<!--", at)
        ? "-->"
        : undefined;
    if (close === undefined) return at;
    const end = text.indexOf(close, at + 2);
    if (end < 0) return text.length;
    at = end + close.length;
  }
}

/** True for a web page, such as a sign-in page saved in place of the data. */
export function isHtml(text: string): boolean {
  const start = afterProlog(text);
  return /^<(?:!doctype\s+html|html|head|body)\b/i.test(text.slice(start, start + 40));
}

/** True where there is nothing but white space (or nothing at all). */
export function isBlank(bytes: Uint8Array): boolean {
  const end = bytes.length;
  for (let i = 0; i < end; i++) {
    const byte = bytes[i]!;
    if (byte !== 0x20 && byte !== 0x09 && byte !== 0x0a && byte !== 0x0d && byte !== 0)
      return false;
  }
  return true;
}

/** Line and column, both from 1, of a character offset. */
export function lineAndColumn(text: string, offset: number): { line: number; column: number } {
  let line = 1;
  let lineStart = 0;
  for (let at = text.indexOf("\n"); at >= 0 && at < offset; at = text.indexOf("\n", at + 1)) {
    line++;
    lineStart = at + 1;
  }
  return { line, column: offset - lineStart + 1 };
}
