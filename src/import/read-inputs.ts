import type { InputFile, RawLayer } from "../model/features.ts";
import { done, type Finding, failed, type Outcome } from "../model/finding.ts";
import { geojsonReader } from "./geojson.ts";
import { kmlReader } from "./kml.ts";
import { extensionOf, inputProblem, type Reader, type ReadLimits } from "./reader.ts";
import { shapefileReader } from "./shapefile.ts";
import { isBlank } from "./text.ts";

/** Every format that can be read, in the order in which they are tried. */
export const READERS: readonly Reader[] = [shapefileReader, kmlReader, geojsonReader];

/** One archive may unpack to 1 GiB. */
const LIMITS: ReadLimits = { unpackedBytesMax: 2 ** 30 };

/** The reader whose mark the content bears, else the one of the file's ending. */
function readerFor(input: InputFile): Reader | undefined {
  const ending = extensionOf(input.name);
  return (
    READERS.find((reader) => reader.looksLike(input.bytes, input.name)) ??
    READERS.find((reader) => reader.extensions.includes(ending))
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
  options: Partial<ReadLimits> = {},
): Promise<Outcome<readonly RawLayer[]>> {
  const limits = { ...LIMITS, ...options };
  const layers: RawLayer[] = [];
  const findings: Finding[] = [];
  for (const input of inputs) {
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
    const outcome = await reader.read(input, limits);
    findings.push(...outcome.findings);
    if (!outcome.ok) return failed(outcome.problem, findings);
    for (const layer of outcome.value) {
      if (layer.features.length === 0) findings.push(emptyLayer(layer));
      layers.push(layer);
    }
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
