import type { InputFile, RawLayer } from "../model/features.ts";
import type { Finding, Outcome, Problem } from "../model/finding.ts";
import type { SurveyCodes } from "./survey/codes.ts";

/** Limits that keep a hostile or broken file from taking the machine down. */
export interface ReadLimits {
  /** Most bytes that one archive may unpack to. */
  readonly unpackedBytesMax: number;
  /** Most times its own size that an archive of some size may unpack to. */
  readonly unpackRatioMax: number;
  /** Most bytes of any file. */
  readonly fileBytesMax: number;
  /** Most bytes of a text that is read as one string (JSON). */
  readonly textBytesMax: number;
  /** Most bytes of an XML document, which takes many times its size as a tree. */
  readonly xmlBytesMax: number;
  /** Deepest nesting of JSON values or XML elements. */
  readonly nestingMax: number;
}

/** What `readInputs` keeps to where the caller says nothing else. */
export const READ_LIMITS: ReadLimits = {
  unpackedBytesMax: 2 ** 30,
  unpackRatioMax: 200,
  fileBytesMax: 2 ** 31 - 1,
  // A string holds at most 2^29 - 24 characters in the engine of Node.
  textBytesMax: 500_000_000,
  xmlBytesMax: 250_000_000,
  nestingMax: 200,
};

/** How far the reading of the inputs has come. */
export interface ReadProgress {
  readonly file: string;
  /** 0 to 1, of the bytes of all inputs. */
  readonly share: number;
}

/** What a reader is told besides the file. */
export interface ReadContext extends ReadLimits {
  /** To be called now and then in a long read, with the share of this file that is read, 0 to 1. */
  readonly onShare?: (share: number) => void;
  /** Code words of survey points in place of the usual ones, list by list. */
  readonly surveyCodes?: Partial<SurveyCodes>;
  /** How far the chords of a curve may lie from it, metres; `CHORD_TOLERANCE_M` where left out. */
  readonly chordToleranceM?: number;
}

/** A file format that can be read. Adding one: a module, a line in READERS, a page, a fixture. */
export interface Reader {
  readonly id: string;
  readonly label: string;
  /** Endings in lower case, with the dot. */
  readonly extensions: readonly string[];
  /** The limit for files of this format; `fileBytesMax` where left out. */
  readonly bytesMax?: "textBytesMax" | "xmlBytesMax";
  /** True where the content is surely of this format, whatever the file is called. */
  looksLike(bytes: Uint8Array, name: string): boolean;
  /** All layers of the file, in source coordinates; a broken feature is a finding, not a failure. */
  read(input: InputFile, context: ReadContext): Outcome<RawLayer[]> | Promise<Outcome<RawLayer[]>>;
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
