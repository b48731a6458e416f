import { readFile } from "node:fs/promises";
import { codeOf, sourceFiles } from "./source-files.ts";

/** Every code of a finding, problem or caution that stands in `src` and `cli`. */
export async function codesInSource(): Promise<string[]> {
  const files = [...(await sourceFiles("src")), ...(await sourceFiles("cli"))];
  const codes = files.flatMap((file) => codesIn(codeOf(file.text)));
  return [...new Set(codes)].sort();
}

/** Words that formats of others have for things of theirs. */
const OF_FORMATS = new Set([
  "ERR_WORKER_OUT_OF_MEMORY",
  "ACAD_GROUP",
  "ACAD_PLOTSTYLENAME",
  "ANSI_1252",
  "BLOCK_RECORD",
  "WGS_1984",
]);

/** Words in capitals with an underscore in quotes, and whatever follows `code:`. */
export function codesIn(text: string): string[] {
  const matches = text.matchAll(/"([A-Z][A-Z0-9]*(?:_[A-Z0-9]+)+)"|\bcode: "([A-Z0-9]+)"/g);
  const words = [...matches].map((match) => (match[1] ?? match[2])!);
  return words.filter((word) => !OF_FORMATS.has(word));
}

/** Codes with an entry in docs/findings.md: the first cell of a table row. */
export async function codesInDocs(): Promise<string[]> {
  const text = await readFile("docs/findings.md", "utf8");
  return [...text.matchAll(/^\| `([A-Z0-9_]+)` \|/gm)].map((match) => match[1]!).sort();
}
