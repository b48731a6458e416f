import type { Geometry } from "geojson";
import type { InputFile, RawFeature, RawLayer } from "../model/features.ts";
import { done, failed, type Outcome } from "../model/finding.ts";
import { crsOf, indexBytes } from "./fgb/header.ts";
import { checkShape } from "./fgb/shape.ts";
import { fieldsOf, reportNullGeometries } from "./members.ts";
import { isUnsafeName, unsafeNameFinding } from "./names.ts";
import { FindingList, inputProblem, type ReadContext, type Reader, stemOf } from "./reader.ts";
import { takeFeature } from "./take-feature.ts";
import { binaryFinding, UnreadTypes } from "./unread.ts";

/** `fgb`, major version 3, `fgb`; the last byte is the patch level. */
const MAGIC = [0x66, 0x67, 0x62, 0x03, 0x66, 0x67, 0x62];
const MAGIC_BYTES = 8;
const PREFIX_BYTES = 4;
/** The library's own bound on a header. */
const HEADER_BYTES_MAX = 10 * 2 ** 20;
/** Progress is told once in so many features. */
const FEATURES_A_STEP = 5000;

/** Stands for a column of unsafe name while the library reads it. */
const UNSAFE_COLUMN = "\0unsafe";

type Library = typeof import("./fgb/library.ts");
type Meta = ReturnType<Library["headerMeta"]>;

/** The bytes from `at`, with their length in front, as a buffer of their own that nothing leads out of. */
function prefixedPart(bytes: Uint8Array, at: number): Uint8Array | string {
  if (at + PREFIX_BYTES > bytes.length) return `it ends at byte ${bytes.length}`;
  const length = new DataView(bytes.buffer, bytes.byteOffset).getUint32(at, true);
  if (at + PREFIX_BYTES + length > bytes.length) {
    return `the part at byte ${at} says that it is ${length} bytes long, but the file ends after ${bytes.length - at - PREFIX_BYTES}`;
  }
  // A copy: numbers in it must begin at multiples of 8, counted from its own start.
  return bytes.slice(at, at + PREFIX_BYTES + length);
}

class LayerReader {
  readonly features: RawFeature[] = [];
  readonly binary = new Set<string>();
  readonly unread = new UnreadTypes();
  readonly #library: Library;
  readonly #meta: Meta;
  readonly #layer: string;
  readonly #findings: FindingList;

  constructor(library: Library, meta: Meta, layer: string, findings: FindingList) {
    this.#library = library;
    this.#meta = meta;
    this.#layer = layer;
    this.#findings = findings;
  }

  #typeName(type: number): string {
    return this.#library.GeometryType[type] ?? `type ${type}`;
  }

  add(bytes: Uint8Array, number: number): void {
    try {
      this.#addSound(bytes, number);
    } catch (error) {
      this.#findings.add({
        code: "GEOMETRY_DAMAGED",
        severity: "error",
        layer: this.#layer,
        feature: `#${number}`,
        message: `feature ${number} is left out: it cannot be read: ${error instanceof Error ? error.message : String(error)}`,
        remedy: "Repair the layer in the program that made it, and export it again.",
      });
    }
  }

  #addSound(bytes: Uint8Array, number: number): void {
    const buffer = new this.#library.ByteBuffer(bytes);
    const feature = this.#library.Feature.getSizePrefixedRootAsFeature(buffer);
    const shape = feature.geometry();
    const check = shape && checkShape(shape, this.#meta.geometryType, bytes.length);
    if (check?.otherType !== undefined) {
      this.unread.add(this.#typeName(check.otherType), number);
      return;
    }
    const hasShape = check !== null && !check.isEmpty;
    const properties: Record<string, unknown> = {};
    const held = this.#library.parseProperties(feature, this.#meta.columns);
    for (const [name, value] of Object.entries(held)) {
      if (value instanceof Uint8Array) this.binary.add(name);
      else if (name !== UNSAFE_COLUMN) properties[name] = value;
    }
    const raw: RawFeature = {
      number,
      geometry: hasShape
        ? (this.#library.fromGeometry(shape!, this.#meta.geometryType) as Geometry)
        : null,
      properties,
      ...(check && check.measures.length > 0 ? { measures: check.measures } : {}),
    };
    for (const one of takeFeature(raw, this.#findings, this.#layer)) this.features.push(one);
  }
}

interface Opened {
  readonly meta: Meta;
  readonly name: string | null;
  /** Where the features begin. */
  readonly featuresAt: number;
}

/** The header; a string says why it cannot be read. */
function openHeader(bytes: Uint8Array, library: Library): Opened | string {
  const head = prefixedPart(bytes, MAGIC_BYTES);
  if (typeof head === "string") return `its header is cut short: ${head}`;
  if (head.length < 3 * PREFIX_BYTES || head.length > HEADER_BYTES_MAX)
    return `its header says that it is ${head.length} bytes long`;
  // The library takes whatever lies beyond the end for zeros, so that noise reads as an empty header.
  const root = PREFIX_BYTES + new DataView(head.buffer).getUint32(PREFIX_BYTES, true);
  if (root + 4 > head.length) return "its header is damaged: its table lies beyond its end";
  try {
    const meta = library.headerMeta(new library.ByteBuffer(head));
    const header = library.Header.getSizePrefixedRootAsHeader(new library.ByteBuffer(head));
    const index = indexBytes(meta.featuresCount, meta.indexNodeSize);
    const featuresAt = MAGIC_BYTES + head.length + index;
    if (featuresAt > bytes.length) {
      return `its header promises ${meta.featuresCount} features with an index of ${index} bytes, more than the file has`;
    }
    return { meta, name: header.name(), featuresAt };
  } catch (error) {
    return `its header is damaged: ${error instanceof Error ? error.message : String(error)}`;
  }
}

async function readFgb(input: InputFile, context: ReadContext): Promise<Outcome<RawLayer[]>> {
  const { name: file, bytes } = input;
  const fail = (code: string, message: string) =>
    failed<RawLayer[]>(inputProblem(file, code, message, "Copy or export it again."));
  if (!isFgb(bytes)) {
    return fail("NOT_FLATGEOBUF", "it does not begin like a FlatGeobuf file of version 3");
  }
  const library = await import("./fgb/library.ts");
  const opened = openHeader(bytes, library);
  if (typeof opened === "string") return fail("FGB_DAMAGED", opened);
  const findings = new FindingList(file);
  const layer = opened.name?.trim() || stemOf(file);
  const columns = (opened.meta.columns ?? []).map((column) => column.name);
  if (columns.some(isUnsafeName)) findings.all.push(unsafeNameFinding(file, layer));
  // Under its own name the library would set the prototype of its result.
  const meta = {
    ...opened.meta,
    columns: (opened.meta.columns ?? []).map((column) =>
      isUnsafeName(column.name) ? { ...column, name: UNSAFE_COLUMN } : column,
    ),
  };
  const reader = new LayerReader(library, meta, layer, findings);
  let number = 0;
  for (let at = opened.featuresAt; at < bytes.length; ) {
    const part = prefixedPart(bytes, at);
    if (typeof part === "string") return fail("FGB_DAMAGED", `it is cut short: ${part}`);
    reader.add(part, ++number);
    at += part.length;
    if (number % FEATURES_A_STEP === 0) context.onShare?.(at / bytes.length);
  }
  if (meta.featuresCount > number) {
    return fail(
      "FGB_DAMAGED",
      `its header promises ${meta.featuresCount} features, the file has ${number}: it is cut short`,
    );
  }
  const { features, unread, binary } = reader;
  unread.report(findings, layer);
  if (binary.size > 0) findings.add(binaryFinding(layer, binary));
  reportNullGeometries(features, findings, layer);
  const crs = crsOf(meta.crs);
  const fields = fieldsOf(features);
  return done(
    [{ file, format: "fgb", layer, features, featuresInFile: number, fields, crs }],
    findings.all,
  );
}

function isFgb(bytes: Uint8Array): boolean {
  return MAGIC.every((byte, index) => bytes[index] === byte);
}

/** FlatGeobuf 3. See docs/formats/flatgeobuf.md. */
export const fgbReader: Reader = {
  id: "fgb",
  label: "FlatGeobuf",
  extensions: [".fgb"],
  looksLike: isFgb,
  read: readFgb,
};
