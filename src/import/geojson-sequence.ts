import type { InputFile, RawLayer } from "../model/features.ts";
import { failed, type Outcome } from "../model/finding.ts";
import { featuresOf } from "./geojson.ts";
import { layerOfFeatures, REMEDY_EXPORT } from "./geojson-layer.ts";
import { isNestedDeeper } from "./json.ts";
import {
  extensionOf,
  FindingList,
  inputProblem,
  type ReadContext,
  type Reader,
  stemOf,
} from "./reader.ts";
import { headOf, isHtml } from "./text.ts";

const RECORD_SEPARATOR = 0x1e;
const LINE_FEED = 0x0a;
const ENDINGS = [".geojsons", ".geojsonl", ".geojsonseq", ".ndgeojson", ".ndjson", ".jsonl"];

interface TextRecord {
  readonly bytes: Uint8Array;
  /** 1-based line on which it begins. */
  readonly line: number;
}

function isBlankByte(byte: number): boolean {
  return byte === 0x20 || byte === 0x09 || byte === 0x0a || byte === 0x0d;
}

function startOf(bytes: Uint8Array): number {
  return bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf ? 3 : 0;
}

/** True where the first text that is no blank is the mark of RFC 8142. */
function hasSeparators(bytes: Uint8Array): boolean {
  let at = startOf(bytes);
  while (at < bytes.length && isBlankByte(bytes[at]!)) at++;
  return bytes[at] === RECORD_SEPARATOR;
}

/** The texts between record separators (RFC 8142), or the lines where there are none. */
function* recordsOf(bytes: Uint8Array): Generator<TextRecord> {
  const mark = hasSeparators(bytes) ? RECORD_SEPARATOR : LINE_FEED;
  let line = 1;
  let from = startOf(bytes);
  while (from < bytes.length) {
    const found = bytes.indexOf(mark, from);
    const to = found < 0 ? bytes.length : found;
    let start = from;
    while (start < to && isBlankByte(bytes[start]!)) if (bytes[start++] === LINE_FEED) line++;
    if (start < to) yield { bytes: bytes.subarray(start, to), line };
    if (mark === LINE_FEED) line++;
    else for (let at = start; at < to; at++) if (bytes[at] === LINE_FEED) line++;
    from = to + 1;
  }
}

/** The GeoJSON objects of one text, or what is wrong with it. */
function valuesOf(record: TextRecord, limits: ReadContext): unknown[] | string {
  if (record.bytes.length > limits.textBytesMax) {
    return `it is ${record.bytes.length} bytes long; at most ${limits.textBytesMax} are read`;
  }
  let text: string;
  try {
    text = new TextDecoder("utf-8", { fatal: true }).decode(record.bytes);
  } catch {
    return "it is not UTF-8";
  }
  if (isNestedDeeper(text, limits.nestingMax)) return `it nests deeper than ${limits.nestingMax}`;
  try {
    const held = featuresOf(JSON.parse(text) as unknown);
    return Array.isArray(held) ? held : held.message;
  } catch (error) {
    return `no valid JSON (${error instanceof Error ? error.message : String(error)})`;
  }
}

function readSequence(input: InputFile, limits: ReadContext): Outcome<RawLayer[]> {
  const file = input.name;
  const layer = stemOf(file);
  const head = headOf(input.bytes);
  if (isHtml(head)) {
    return failed(
      inputProblem(
        file,
        "FILE_IS_WEB_PAGE",
        "this is a web page (HTML), not map data",
        "Open it in a browser to see what it says, then download the data itself again.",
      ),
    );
  }
  const findings = new FindingList(file);
  const held: unknown[] = [];
  let [broken, read] = [0, 0];
  for (const record of recordsOf(input.bytes)) {
    const values = valuesOf(record, limits);
    if (++read % 2000 === 0)
      limits.onShare?.((record.bytes.byteOffset - input.bytes.byteOffset) / input.bytes.length);
    if (typeof values !== "string") {
      for (const value of values) held.push(value);
      continue;
    }
    broken++;
    held.push(undefined);
    findings.add({
      code: "SEQUENCE_TEXT_BROKEN",
      severity: "error",
      layer,
      feature: `#${held.length}`,
      message: `the text at line ${record.line} is left out: ${values}`,
      remedy: "Correct or remove that line in the file.",
    });
  }
  if (broken === held.length) {
    const first = findings.all[0]?.message ?? "it holds no text";
    return failed(
      inputProblem(
        file,
        "SEQUENCE_TEXT_BROKEN",
        `none of its ${held.length} texts is GeoJSON; ${first}`,
        REMEDY_EXPORT,
        layer,
      ),
    );
  }
  const crs = { kind: "wgs84", from: "RFC 7946" } as const;
  return layerOfFeatures({ file, format: "geojson-sequence", layer, crs }, held, findings);
}

/** Whether the first line is a whole JSON object and another one follows. */
function isLines(bytes: Uint8Array): boolean {
  const records = recordsOf(bytes);
  const first = records.next().value as TextRecord | undefined;
  const second = records.next().value as TextRecord | undefined;
  if (first === undefined || second === undefined) return false;
  let end = first.bytes.length - 1;
  while (end > 0 && isBlankByte(first.bytes[end]!)) end--;
  return first.bytes[0] === 0x7b && first.bytes[end] === 0x7d && second.bytes[0] === 0x7b;
}

/** GeoJSON text sequences (RFC 8142) and one object a line. See docs/formats/geojson-sequence.md. */
export const geojsonSequenceReader: Reader = {
  id: "geojson-sequence",
  label: "GeoJSON text sequence",
  extensions: ENDINGS,
  looksLike: (bytes, name) =>
    hasSeparators(bytes) || ENDINGS.includes(extensionOf(name)) || isLines(bytes),
  read: readSequence,
};
