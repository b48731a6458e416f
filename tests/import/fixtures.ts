import { existsSync, readdirSync, readFileSync, statSync } from "node:fs";
import { join } from "node:path";
import { readInputs } from "../../src/import/read-inputs.ts";
import type { InputFile, RawLayer } from "../../src/model/features.ts";
import type { Finding, Problem } from "../../src/model/finding.ts";

export const FIXTURES = "tests/fixtures/import";

/** A file from disk with the files of its stem, as the command line would hand it over. */
export function inputAt(path: string): InputFile {
  const siblings: Record<string, Uint8Array> = {};
  if (path.toLowerCase().endsWith(".shp")) {
    for (const ending of [".dbf", ".prj", ".cpg"]) {
      for (const spelling of [ending, ending.toUpperCase()]) {
        const side = path.slice(0, -4) + spelling;
        if (existsSync(side)) siblings[ending] = new Uint8Array(readFileSync(side));
      }
    }
  }
  return { name: path, bytes: new Uint8Array(readFileSync(path)), siblings };
}

export function fixture(name: string): InputFile {
  return inputAt(join(FIXTURES, name));
}

/** A text or JSON value as an input file. */
export function textInput(name: string, content: unknown): InputFile {
  const text = typeof content === "string" ? content : JSON.stringify(content);
  return { name, bytes: new TextEncoder().encode(text) };
}

export async function layersOf(
  ...inputs: InputFile[]
): Promise<{ layers: readonly RawLayer[]; findings: readonly Finding[]; codes: string[] }> {
  const outcome = await readInputs(inputs);
  if (!outcome.ok) throw new Error(`${outcome.problem.code}: ${outcome.problem.message}`);
  const codes = outcome.findings.map((finding) => finding.code);
  return { layers: outcome.value, findings: outcome.findings, codes };
}

export async function problemOf(...inputs: InputFile[]): Promise<Problem> {
  const outcome = await readInputs(inputs);
  if (outcome.ok) throw new Error("was read, though it should not have been");
  return outcome.problem;
}

/** All files under a folder. */
export function* filesUnder(folder: string): Generator<string> {
  for (const name of readdirSync(folder).sort()) {
    const path = join(folder, name);
    if (statSync(path).isDirectory()) yield* filesUnder(path);
    else yield path;
  }
}
