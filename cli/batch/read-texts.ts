import { badInput } from "../refusal.ts";

const RECORD_SEPARATOR = 0x1e;
const LINE_FEED = 0x0a;

/** Longest text that is read, bytes. */
export const TEXT_BYTES_MAX = 100_000_000;

/** One text of a stream, without its mark; `bytes` is undefined where it is longer than allowed. */
export interface StreamText {
  readonly bytes: Uint8Array | undefined;
}

/**
 * The texts of a stream as they come: between record separators (RFC 8142) where the stream begins
 * with one, else line by line. No more than one text is held. Blank ones are none.
 *
 * @throws STREAM_NOT_SEQUENCE where the first line of a stream without separators begins an object
 *   that does not end on it: such a stream is one file, not a sequence
 */
export async function* readTexts(
  stream: AsyncIterable<Uint8Array>,
  bytesMax = TEXT_BYTES_MAX,
): AsyncGenerator<StreamText> {
  let mark: number | undefined;
  let held: Uint8Array[] = [];
  let length = 0;
  let count = 0;
  const take = (): StreamText | undefined => {
    const text = length > bytesMax ? undefined : Buffer.concat(held, length);
    [held, length] = [[], 0];
    if (text !== undefined && isBlank(text)) return undefined;
    if (count++ === 0 && mark === LINE_FEED) refusePart(text);
    return { bytes: text };
  };
  for await (const given of stream) {
    let chunk = given;
    if (mark === undefined) {
      const first = chunk.findIndex((byte) => !isBlankByte(byte));
      if (first < 0) continue;
      mark = chunk[first] === RECORD_SEPARATOR ? RECORD_SEPARATOR : LINE_FEED;
      chunk = chunk.subarray(first);
    }
    let from = 0;
    for (;;) {
      const to = chunk.indexOf(mark, from);
      const part = chunk.subarray(from, to < 0 ? chunk.length : to);
      length += part.length;
      // What is too long is counted, but not kept.
      if (length <= bytesMax) held.push(part);
      if (to < 0) break;
      const text = take();
      if (text !== undefined) yield text;
      from = to + 1;
    }
  }
  const text = take();
  if (text !== undefined) yield text;
}

function refusePart(text: Uint8Array | undefined): void {
  if (text === undefined) return;
  let last = text.length - 1;
  while (last > 0 && isBlankByte(text[last]!)) last--;
  if (text[0] === 0x7b && text[last] === 0x7d) return;
  throw badInput(
    "STREAM_NOT_SEQUENCE",
    "Standard input does not hold GeoJSON texts, one a line or with a record separator before each.",
    "Send a GeoJSON text sequence (RFC 8142), e.g. with `ogr2ogr -f GeoJSONSeq -lco RS=YES`; name a file of another format as INPUT.",
    "-",
  );
}

const isBlank = (bytes: Uint8Array) => bytes.every(isBlankByte);
/** Blanks of JSON, and the bytes of a byte order mark. */
const BLANK_BYTES: readonly number[] = [0x20, 0x09, 0x0a, 0x0d, 0xef, 0xbb, 0xbf];
const isBlankByte = (byte: number) => BLANK_BYTES.includes(byte);
