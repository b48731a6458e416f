import { basename, extname } from "node:path";
import { fileName } from "../../src/escape/file-name.ts";

/** Name of a file without folder and ending. */
export function stemOfPath(path: string): string {
  return basename(path, extname(path));
}

/**
 * Folder of the results where `--out` is not given: named after the first input, here. A name that
 * would leave this folder, hide, or be the input's own is made another.
 */
export function defaultFolder(firstInput: string): string {
  const name = fileName(stemOfPath(firstInput), "plan");
  return name === basename(firstInput) ? `${name}-plan` : name;
}
