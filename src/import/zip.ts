import { unzipSync } from "fflate";
import { done, failed, type Outcome } from "../model/finding.ts";
import { inputProblem, type ReadLimits } from "./reader.ts";

/** One file in an archive, as the archive's own list describes it. */
export interface ZipEntry {
  readonly name: string;
  readonly packedBytes: number;
  readonly bytes: number;
}

/** Deflate cannot make more than this of one byte (RFC 1951: 258 bytes in 2 bits). */
const DEFLATE_RATIO_MAX = 1032;
/** Least length of one entry in the archive's list (APPNOTE.TXT 4.3.12). */
const LIST_ENTRY_BYTES = 46;
/** Archives that unpack to no more than this are never called bombs. */
const SMALL_BYTES = 64 * 2 ** 20;

/** True where the bytes begin like a zip archive. */
export function isZip(bytes: Uint8Array): boolean {
  return bytes[0] === 0x50 && bytes[1] === 0x4b && (bytes[2] === 3 || bytes[2] === 5);
}

/** Side files that some systems put into archives; never data. */
function isClutter(name: string): boolean {
  return name.startsWith("__MACOSX/") || /(^|\/)\._/.test(name) || name.endsWith("/");
}

/** A path that would lead out of the folder it is unpacked to. Ours is never written, but why trust it. */
function climbsOut(name: string): boolean {
  return /^([/\\]|[A-Za-z]:)|(^|[/\\])\.\.([/\\]|$)|\0/.test(name);
}

/** The archive's list of files, nothing unpacked. Throws where it cannot be read. */
function listEntries(bytes: Uint8Array): ZipEntry[] {
  const entries: ZipEntry[] = [];
  const most = Math.floor(bytes.length / LIST_ENTRY_BYTES);
  unzipSync(bytes, {
    filter: ({ name, size, originalSize }) => {
      if (entries.length >= most) throw new Error("its list of files is longer than the archive");
      entries.push({ name, packedBytes: size, bytes: originalSize });
      return false;
    },
  });
  return entries;
}

/** Names in the archive; empty where it cannot be listed. */
export function zipNames(bytes: Uint8Array): string[] {
  try {
    return listEntries(bytes)
      .map(({ name }) => name)
      .filter((name) => !isClutter(name));
  } catch {
    return [];
  }
}

/** Why an archive must not be unpacked, from its list alone. */
function listFault(entries: readonly ZipEntry[], archiveBytes: number, limits: ReadLimits) {
  const outside = entries.find(({ name }) => climbsOut(name));
  if (outside !== undefined) {
    return {
      code: "ZIP_PATH_UNSAFE",
      message: `the archive holds a path that leads out of it (${JSON.stringify(outside.name.slice(0, 80))}), as no honest archive does`,
      remedy: "Do not unpack it elsewhere either; ask whoever made it for a clean one.",
    };
  }
  const total = entries.reduce((sum, entry) => sum + entry.bytes, 0);
  if (total > limits.unpackedBytesMax) {
    return {
      code: "ZIP_TOO_LARGE",
      message: `the archive unpacks to ${total} bytes; at most ${limits.unpackedBytesMax} are read`,
      remedy: "Unpack it yourself, keep the layers of this site, and give those files.",
    };
  }
  const lying = entries.find((entry) => entry.bytes > entry.packedBytes * DEFLATE_RATIO_MAX + 64);
  if (lying !== undefined) {
    return {
      code: "ZIP_DAMAGED",
      message: `the archive says that ${lying.name} unpacks from ${lying.packedBytes} to ${lying.bytes} bytes, which cannot be`,
      remedy: "Make or download the archive again.",
    };
  }
  if (total > SMALL_BYTES && total > archiveBytes * limits.unpackRatioMax) {
    return {
      code: "ZIP_TOO_LARGE",
      message: `the archive unpacks to ${Math.round(total / archiveBytes)} times its size, as archives do that are made to fill the memory; at most ${limits.unpackRatioMax} times are read`,
      remedy: "If it is an honest archive, unpack it yourself and give the files.",
    };
  }
  return undefined;
}

/**
 * Unpacks the entries that `wanted` picks, in the archive's order.
 *
 * Refused before anything is unpacked: paths that climb out (`ZIP_PATH_UNSAFE`), more bytes than the
 * limit or than an honest archive's (`ZIP_TOO_LARGE`), sizes that cannot be (`ZIP_DAMAGED`). An entry
 * never takes more memory than the archive's list says.
 */
export function unzip(
  file: string,
  bytes: Uint8Array,
  limits: ReadLimits,
  wanted: (name: string) => boolean,
): Outcome<Map<string, Uint8Array>> {
  const isWanted = (name: string) => !isClutter(name) && wanted(name);
  const fail = (code: string, message: string, remedy: string) =>
    failed<Map<string, Uint8Array>>(inputProblem(file, code, message, remedy));
  try {
    const all = listEntries(bytes);
    // Paths count wherever they stand; sizes only of what would be unpacked.
    const judged = all.filter(({ name }) => climbsOut(name) || isWanted(name));
    const fault = listFault(judged, bytes.length, limits);
    if (fault !== undefined) return fail(fault.code, fault.message, fault.remedy);
    const seen = new Set<string>();
    const unpacked = unzipSync(bytes, {
      filter: ({ name }) => isWanted(name) && !seen.has(name) && seen.add(name) !== undefined,
    });
    return done(new Map(Object.entries(unpacked)));
  } catch (error) {
    return fail(
      "ZIP_DAMAGED",
      `the archive cannot be unpacked (${error instanceof Error ? error.message : String(error)})`,
      "Make or download the archive again, without a password.",
    );
  }
}
