/** All that a page needs to plan its site again, and its form in the file. */
import { deflateSync, inflateSync } from "fflate";
import type { EpsgRecord } from "../../crs/registry.ts";
import type { NamedFiles } from "../../jobs/plan-site-file.ts";
import type { InputFile } from "../../model/features.ts";

/** What a page plans from. */
export interface PageSource {
  /** It says what the command line said as well. */
  readonly siteFile: { readonly name: string; readonly text: string };
  readonly files: NamedFiles;
  /** Reference systems that the files need. */
  readonly epsg: readonly EpsgRecord[];
  /** What a site file cannot say: options of the command line. */
  readonly signal?: boolean;
  readonly coverage?: boolean;
}

interface PackedFile {
  readonly name: string;
  readonly bytes: string;
  readonly siblings?: Readonly<Record<string, string>>;
}

/** The same as JSON: bytes deflated, in base64. */
export interface PackedSource extends Omit<PageSource, "files"> {
  readonly files: {
    readonly inputs: readonly PackedFile[];
    readonly terrain?: PackedFile;
    readonly profile?: string;
  };
}

export function packSource({ files, ...rest }: PageSource): PackedSource {
  const { inputs, terrain, profile } = files;
  return {
    ...rest,
    files: {
      inputs: inputs.map(packFile),
      ...(terrain && { terrain: packFile(terrain) }),
      ...(profile !== undefined && { profile }),
    },
  };
}

export function unpackSource({ files, ...rest }: PackedSource): PageSource {
  const { inputs, terrain, profile } = files;
  return {
    ...rest,
    files: {
      inputs: inputs.map(unpackFile),
      ...(terrain && { terrain: unpackFile(terrain) }),
      ...(profile !== undefined && { profile }),
    },
  };
}

function packFile({ name, bytes, siblings }: InputFile): PackedFile {
  if (!siblings) return { name, bytes: packed(bytes) };
  const parts = Object.entries(siblings).map(([ending, part]) => [ending, packed(part)]);
  return { name, bytes: packed(bytes), siblings: Object.fromEntries(parts) };
}

function unpackFile({ name, bytes, siblings }: PackedFile): InputFile {
  if (!siblings) return { name, bytes: unpacked(bytes) };
  const parts = Object.entries(siblings).map(([ending, part]) => [ending, unpacked(part)]);
  return { name, bytes: unpacked(bytes), siblings: Object.fromEntries(parts) };
}

/** Characters that are made of bytes at a time: arguments of one call are limited. */
const CHUNK = 0x8000;

function packed(bytes: Uint8Array): string {
  const small = deflateSync(bytes, { level: 9 });
  let text = "";
  for (let i = 0; i < small.length; i += CHUNK) {
    text += String.fromCharCode(...small.subarray(i, i + CHUNK));
  }
  return btoa(text);
}

function unpacked(text: string): Uint8Array {
  return inflateSync(Uint8Array.from(atob(text), (char) => char.charCodeAt(0)));
}
