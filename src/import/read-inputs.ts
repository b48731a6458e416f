import type { InputFile, RawLayer } from "../model/features.ts";
import { done, type Finding, failed, type Outcome, type Problem } from "../model/finding.ts";
import { dxfReader } from "./dxf/dxf.ts";
import { fgbReader } from "./fgb.ts";
import { geojsonReader } from "./geojson.ts";
import { geojsonSequenceReader } from "./geojson-sequence.ts";
import { gpkgReader } from "./gpkg.ts";
import { gpxReader } from "./gpx.ts";
import { kmlReader } from "./kml.ts";
import { withoutUnsafeNames } from "./names.ts";
import {
  extensionOf,
  inputProblem,
  READ_LIMITS,
  type Reader,
  type ReadLimits,
  type ReadProgress,
} from "./reader.ts";
import { shapefileReader } from "./shapefile.ts";
import type { SurveyCodes } from "./survey/codes.ts";
import { surveyReader } from "./survey/survey.ts";
import { isBlank } from "./text.ts";
import { wktTableReader } from "./wkt/wkt-table.ts";

/** Every format that can be read, in the order in which they are tried. */
export const READERS: readonly Reader[] = [
  shapefileReader,
  gpkgReader,
  fgbReader,
  kmlReader,
  gpxReader,
  dxfReader,
  geojsonSequenceReader,
  geojsonReader,
  surveyReader,
  wktTableReader,
];

/** Limits to read by, and who wants to know how far it has come. */
export interface ReadOptions extends Partial<ReadLimits> {
  /** Called in long reads, at most some hundred times a file; must not throw. */
  readonly onProgress?: ((progress: ReadProgress) => void) | undefined;
  /** Code words of survey points in place of the usual ones, list by list. */
  readonly surveyCodes?: Partial<SurveyCodes> | undefined;
  /** How far the chords of a curve may lie from it, metres; 0.001 where left out. */
  readonly chordToleranceM?: number | undefined;
}

/** The reader whose mark the content bears, else the one of the file's ending. */
function readerFor(input: InputFile): Reader | undefined {
  const ending = extensionOf(input.name);
  return (
    READERS.find((reader) => reader.looksLike(input.bytes, input.name)) ??
    READERS.find((reader) => reader.extensions.includes(ending))
  );
}

/**
 * The same bytes as a plain view. Node hands files over as Buffers, whose `slice` gives a view where
 * that of other byte lists gives a copy.
 */
function plainBytes(bytes: Uint8Array): Uint8Array {
  return new Uint8Array(bytes.buffer, bytes.byteOffset, bytes.byteLength);
}

function withPlainBytes(input: InputFile): InputFile {
  const { bytes, siblings } = input;
  if (siblings === undefined) return { ...input, bytes: plainBytes(bytes) };
  const parts = Object.entries(siblings).map(([ending, part]) => [ending, plainBytes(part)]);
  return { ...input, bytes: plainBytes(bytes), siblings: Object.fromEntries(parts) };
}

/**
 * Why a file is too large to be read, told by its beginning and its size, so that whoever opens files
 * need not read it first; undefined where it is not.
 *
 * @param head the file's name and its first bytes (some kilobytes are enough)
 */
export function sizeRefusal(
  head: InputFile,
  sizeBytes: number,
  limits: ReadLimits = READ_LIMITS,
): Problem | undefined {
  const reader = readerFor(head);
  const most = limits[reader?.bytesMax ?? "fileBytesMax"];
  if (sizeBytes <= most) return undefined;
  return inputProblem(
    head.name,
    "FILE_TOO_LARGE",
    `the file is ${sizeBytes} bytes long; at most ${most} bytes of ${reader?.label ?? "a file"} are read`,
    "Cut it to the site, or convert it to a shapefile, GeoPackage or FlatGeobuf.",
  );
}

function formatList(): string {
  return READERS.map((reader) => `${reader.label} (${reader.extensions[0]})`).join(", ");
}

/**
 * Reads every input into layers, in source coordinates and input order.
 *
 * A broken feature is left out with a finding of severity `error`; a file that cannot be read at
 * all is a problem of kind `input` and ends the reading. Nothing is interpreted: no roles, no
 * repairs, no reprojection.
 */
export async function readInputs(
  inputs: readonly InputFile[],
  options: ReadOptions = {},
): Promise<Outcome<readonly RawLayer[]>> {
  const { onProgress, surveyCodes, chordToleranceM, ...given } = options;
  const limits: ReadLimits = { ...READ_LIMITS, ...given };
  const totalBytes = inputs.reduce((sum, input) => sum + input.bytes.length, 0);
  let bytesBefore = 0;
  const layers: RawLayer[] = [];
  const findings: Finding[] = [];
  for (const one of inputs) {
    const input = withPlainBytes(one);
    const tooLarge = sizeRefusal(input, input.bytes.length, limits);
    if (tooLarge !== undefined) return failed(tooLarge, findings);
    if (isBlank(input.bytes)) {
      return failed(
        inputProblem(
          input.name,
          "FILE_EMPTY",
          input.bytes.length === 0 ? "the file is empty (0 bytes)" : "the file holds nothing",
          "Export or download it again.",
        ),
        findings,
      );
    }
    const reader = readerFor(input);
    if (reader === undefined) {
      return failed(
        inputProblem(
          input.name,
          "FORMAT_UNKNOWN",
          "neither its ending nor its content is of a format that can be read",
          `Give one of: ${formatList()}.`,
        ),
        findings,
      );
    }
    const onShare = (share: number): void =>
      onProgress?.({
        file: input.name,
        share: (bytesBefore + share * input.bytes.length) / totalBytes,
      });
    const outcome = await reader.read(input, {
      ...limits,
      onShare,
      ...(surveyCodes === undefined ? {} : { surveyCodes }),
      ...(chordToleranceM === undefined ? {} : { chordToleranceM }),
    });
    for (const finding of outcome.findings) findings.push(finding);
    if (!outcome.ok) return failed(outcome.problem, findings);
    for (const layer of outcome.value) {
      if (layer.features.length === 0) findings.push(emptyLayer(layer));
      const safe = withoutUnsafeNames(layer);
      if (safe.finding !== undefined) findings.push(safe.finding);
      layers.push(safe.layer);
    }
    onShare(1);
    bytesBefore += input.bytes.length;
  }
  return done(layers, findings);
}

function emptyLayer(layer: RawLayer): Finding {
  return {
    code: "LAYER_EMPTY",
    severity: "warning",
    file: layer.file,
    layer: layer.layer,
    message: `layer ${layer.layer} holds no features that can be used`,
    remedy: "Check that the right layer was exported, with all of its features.",
  };
}
