import { unzipSync } from "fflate";
import { done, failed, type Outcome } from "../model/finding.ts";
import { inputProblem, type ReadLimits } from "./reader.ts";

/** True where the bytes begin like a zip archive. */
export function isZip(bytes: Uint8Array): boolean {
  return bytes[0] === 0x50 && bytes[1] === 0x4b && (bytes[2] === 3 || bytes[2] === 5);
}

/** Side files that some systems put into archives; never data. */
function isClutter(name: string): boolean {
  return name.startsWith("__MACOSX/") || /(^|\/)\._/.test(name) || name.endsWith("/");
}

/** Names in the archive; empty where it cannot be listed. */
export function zipNames(bytes: Uint8Array): string[] {
  const names: string[] = [];
  try {
    unzipSync(bytes, {
      filter: (entry) => {
        if (!isClutter(entry.name)) names.push(entry.name);
        return false;
      },
    });
  } catch {
    return [];
  }
  return names;
}

/** Unpacks the entries that `wanted` picks, unless they come to more than the limit. */
export function unzip(
  file: string,
  bytes: Uint8Array,
  limits: ReadLimits,
  wanted: (name: string) => boolean,
): Outcome<Map<string, Uint8Array>> {
  let total = 0;
  try {
    unzipSync(bytes, {
      filter: (entry) => {
        if (!isClutter(entry.name) && wanted(entry.name)) total += entry.originalSize;
        return false;
      },
    });
    if (total > limits.unpackedBytesMax) {
      return failed(
        inputProblem(
          file,
          "ZIP_TOO_LARGE",
          `the archive unpacks to ${total} bytes; at most ${limits.unpackedBytesMax} are read`,
          "Unpack it yourself, keep the layers of this site, and give those files.",
        ),
      );
    }
    const entries = unzipSync(bytes, {
      filter: (entry) => !isClutter(entry.name) && wanted(entry.name),
    });
    return done(new Map(Object.entries(entries)));
  } catch (error) {
    return failed(
      inputProblem(
        file,
        "ZIP_DAMAGED",
        `the archive cannot be unpacked (${error instanceof Error ? error.message : String(error)})`,
        "Make or download the archive again, without a password.",
      ),
    );
  }
}
