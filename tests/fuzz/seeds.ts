/** The files that mutations start from: the fuzzer's own, and small ones of the other tests. */

import { existsSync, readFileSync } from "node:fs";
import { zipSync } from "fflate";

/** A file with the files of its stem, by ending; most have one part. */
export type Parts = Readonly<Record<string, Uint8Array>>;

const bytesAt = (path: string): Uint8Array => new Uint8Array(readFileSync(path));
const endingOf = (path: string): string => path.slice(path.lastIndexOf("."));

/** A file alone, under the ending that it is to have. */
export function file(path: string, ending = endingOf(path)): Parts {
  return { [ending]: bytesAt(path) };
}

/** A shapefile with those of its parts that are there. */
export function shapefile(stem: string): Parts {
  const parts: Record<string, Uint8Array> = {};
  for (const ending of [".shp", ".dbf", ".prj", ".cpg"]) {
    if (existsSync(stem + ending)) parts[ending] = bytesAt(stem + ending);
  }
  return parts;
}

/** The parts of a shapefile in one archive. */
export function zipped(parts: Parts, stem: string): Parts {
  const entries = Object.entries(parts).map(([ending, bytes]) => [stem + ending, bytes]);
  return { ".zip": zipSync(Object.fromEntries(entries)) };
}

/** Texts of reference systems in every dialect, one in `step` of those that the tests of `src/crs` hold. */
export function systemTexts(step: number): string[] {
  const { systems } = JSON.parse(readFileSync("tests/fixtures/crs/dialects.json", "utf8"));
  const texts = (systems as Record<string, unknown>[]).flatMap((system) =>
    Object.values(system).filter((value): value is string => typeof value === "string"),
  );
  return texts.filter((_, i) => i % step === 0);
}
