/** Base64 (RFC 4648) where neither Node's buffers nor a page's strings of bytes can be relied on. */

const DIGITS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";

export function encodeBase64(bytes: Uint8Array): string {
  const parts: string[] = [];
  for (let i = 0; i < bytes.length; i += 3) {
    const left = bytes.length - i;
    const group = (bytes[i]! << 16) | ((bytes[i + 1] ?? 0) << 8) | (bytes[i + 2] ?? 0);
    parts.push(
      DIGITS[group >> 18]! +
        DIGITS[(group >> 12) & 63]! +
        (left > 1 ? DIGITS[(group >> 6) & 63]! : "=") +
        (left > 2 ? DIGITS[group & 63]! : "="),
    );
  }
  return parts.join("");
}

/** @param text without spaces or line ends */
export function decodeBase64(text: string): Uint8Array {
  const values = new Uint8Array(128);
  for (let i = 0; i < DIGITS.length; i++) values[DIGITS.charCodeAt(i)] = i;
  const padding = text.endsWith("==") ? 2 : text.endsWith("=") ? 1 : 0;
  const bytes = new Uint8Array((text.length / 4) * 3 - padding);
  for (let i = 0, at = 0; i < text.length; i += 4) {
    const value = (k: number) => values[text.charCodeAt(i + k)]!;
    const group = (value(0) << 18) | (value(1) << 12) | (value(2) << 6) | value(3);
    for (const byte of [group >> 16, (group >> 8) & 255, group & 255]) {
      if (at < bytes.length) bytes[at++] = byte;
    }
  }
  return bytes;
}
