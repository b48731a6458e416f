import type { InputFile, RawLayer } from "../model/features.ts";
import type { Finding, Outcome, Problem } from "../model/finding.ts";

/** Limits that keep a hostile or broken file from taking the machine down. */
export interface ReadLimits {
  /** Most bytes that one archive may unpack to. */
  readonly unpackedBytesMax: number;
}

/** A file format that can be read. Adding one: a module, a line in READERS, a page, a fixture. */
export interface Reader {
  readonly id: string;
  readonly label: string;
  /** Endings in lower case, with the dot. */
  readonly extensions: readonly string[];
  /** True where the content is surely of this format, whatever the file is called. */
  looksLike(bytes: Uint8Array, name: string): boolean;
  /** All layers of the file, in source coordinates; a broken feature is a finding, not a failure. */
  read(input: InputFile, limits: ReadLimits): Outcome<RawLayer[]> | Promise<Outcome<RawLayer[]>>;
}

/** A problem with an input file as a whole. */
export function inputProblem(
  file: string,
  code: string,
  message: string,
  remedy: string,
  layer?: string,
): Problem {
  return { code, kind: "input", file, message, remedy, ...(layer === undefined ? {} : { layer }) };
}

/** Collects findings about one file. */
export class FindingList {
  readonly all: Finding[] = [];
  readonly #file: string;

  constructor(file: string) {
    this.#file = file;
  }

  add(finding: Omit<Finding, "file">): void {
    this.all.push({ file: this.#file, ...finding });
  }
}

/** Ending of a file name in lower case, with the dot; empty where there is none. */
export function extensionOf(name: string): string {
  const base = name.slice(Math.max(name.lastIndexOf("/"), name.lastIndexOf("\\")) + 1);
  const dot = base.lastIndexOf(".");
  return dot <= 0 ? "" : base.slice(dot).toLowerCase();
}

/** File name without folders and ending. */
export function stemOf(name: string): string {
  const base = name.slice(Math.max(name.lastIndexOf("/"), name.lastIndexOf("\\")) + 1);
  const dot = base.lastIndexOf(".");
  return dot <= 0 ? base : base.slice(0, dot);
}
