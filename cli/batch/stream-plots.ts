import { fieldText } from "../../src/batch/plots-by-field.ts";
import type { PlotFile } from "../../src/jobs/plan-plot.ts";
import { readTexts } from "./read-texts.ts";

/** What the texts of standard input are called in findings. */
export const STREAM_NAME = "standard-input.geojson";

export interface StreamPlot extends PlotFile {
  /** Its value has been there before, with others in between: that plot is planned without this. */
  readonly isAgain?: boolean;
}

/**
 * Plots from a stream of GeoJSON texts: each text one plot; or, with a field, each run of texts whose
 * features have the same value. A text that is no JSON is a plot too, which will say so in its row.
 */
export async function* streamPlots(
  stream: AsyncIterable<Uint8Array>,
  field: string | undefined,
): AsyncGenerator<StreamPlot> {
  let number = 0;
  const file = (parts: readonly Uint8Array[]) => ({ name: STREAM_NAME, bytes: joined(parts) });
  if (field === undefined) {
    for await (const { bytes = TOO_LONG } of readTexts(stream)) {
      number++;
      yield { number, name: nameOf(textOf(bytes)) ?? `#${number}`, file: file([bytes]) };
    }
    return;
  }
  let run: { name: string | undefined; parts: Uint8Array[] } | undefined;
  const seen = new Set<string>();
  const plotOf = ({ name, parts }: { name: string | undefined; parts: Uint8Array[] }) => {
    number++;
    const isAgain = name !== undefined && seen.has(name);
    if (name !== undefined) seen.add(name);
    return { number, name: name ?? `#${number}`, file: file(parts), isAgain };
  };
  for await (const { bytes = TOO_LONG } of readTexts(stream)) {
    const name = fieldOf(textOf(bytes), field);
    if (run !== undefined && name !== undefined && run.name === name) run.parts.push(bytes);
    else {
      if (run !== undefined) yield plotOf(run);
      run = { name, parts: [bytes] };
    }
  }
  if (run !== undefined) yield plotOf(run);
}

/** Stands for a text that is longer than allowed: no JSON either, and says why. */
const TOO_LONG = new TextEncoder().encode("a text of more than 100 MB, which is not read");

/** One text as it is; several as a sequence. */
function joined(parts: readonly Uint8Array[]): Uint8Array {
  if (parts.length === 1) return parts[0]!;
  const mark = Uint8Array.of(0x1e);
  return Buffer.concat(parts.flatMap((part) => [mark, part]));
}

type Text = Readonly<Record<string, unknown>>;

function textOf(bytes: Uint8Array): Text | undefined {
  try {
    const value: unknown = JSON.parse(new TextDecoder().decode(bytes));
    return typeof value === "object" && value !== null ? (value as Text) : undefined;
  } catch {
    return undefined;
  }
}

const propertiesOf = (value: unknown): Text => {
  const properties = (value as { properties?: unknown } | null)?.properties;
  return typeof properties === "object" && properties !== null ? (properties as Text) : {};
};

/** `plot`, `name` or `id` of a collection; of a feature, its attributes or its id. */
function nameOf(text: Text | undefined): string | undefined {
  if (text === undefined) return undefined;
  const own = fieldText(text, "plot") ?? fieldText(text, "name");
  const said = propertiesOf(text);
  const given = fieldText(said, "plot") ?? fieldText(said, "name");
  return own ?? given ?? fieldText(text, "id");
}

/** Value of the field: of the feature, of the collection, or of its first feature that has one. */
function fieldOf(text: Text | undefined, field: string): string | undefined {
  if (text === undefined) return undefined;
  const own = fieldText(propertiesOf(text), field) ?? fieldText(text, field);
  if (own !== undefined || !Array.isArray(text.features)) return own;
  for (const feature of text.features) {
    const value = fieldText(propertiesOf(feature), field);
    if (value !== undefined) return value;
  }
  return undefined;
}
