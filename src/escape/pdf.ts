/**
 * A text string of PDF (ISO 32000-1, 7.3.4 and 7.9.2.2) with its delimiters: literal where it is
 * printable ASCII, else hexadecimal UTF-16BE with its mark, in which nothing can act.
 */
export function pdfText(text: string): string {
  if (/^[\x20-\x7e]*$/.test(text)) return `(${text.replace(/[\\()]/g, "\\$&")})`;
  const units = Array.from({ length: text.length }, (_, i) => text.charCodeAt(i));
  return `<FEFF${units.map((unit) => unit.toString(16).toUpperCase().padStart(4, "0")).join("")}>`;
}

/** At most this many bytes in a name (ISO 32000-1, annex C). */
const NAME_BYTES_MAX = 127;

/** A name of PDF (7.3.5) with its slash: what is no regular character as `#XX`; NUL cannot stand in it. */
export function pdfName(text: string): string {
  const bytes = new TextEncoder().encode(text.replaceAll("\0", "")).slice(0, NAME_BYTES_MAX);
  const isRegular = (byte: number) =>
    byte > 0x20 && byte < 0x7f && !"#()<>[]{}/%".includes(String.fromCharCode(byte));
  return `/${Array.from(bytes, (byte) =>
    isRegular(byte)
      ? String.fromCharCode(byte)
      : `#${byte.toString(16).toUpperCase().padStart(2, "0")}`,
  ).join("")}`;
}
