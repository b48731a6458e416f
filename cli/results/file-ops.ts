import * as fs from "node:fs/promises";

/** What is done to the file system here; tests put something in between that fails or dies. */
export type FileOps = Pick<
  typeof fs,
  | "access"
  | "copyFile"
  | "link"
  | "lstat"
  | "mkdir"
  | "open"
  | "readdir"
  | "readFile"
  | "readlink"
  | "realpath"
  | "rename"
  | "rm"
  | "rmdir"
  | "symlink"
  | "unlink"
>;

export const FILE_OPS: FileOps = fs;

/** Code of a failed call of the file system, e.g. `ENOENT`; undefined for faults of other kinds. */
export function codeOfError(error: unknown): string | undefined {
  const { code, syscall } = error as NodeJS.ErrnoException;
  return syscall === undefined ? undefined : code;
}

/** Passes over failures with one of these codes. */
export async function unless<T>(
  work: Promise<T>,
  ...codes: readonly string[]
): Promise<T | undefined> {
  try {
    return await work;
  } catch (error) {
    if (codes.includes(codeOfError(error) ?? "")) return undefined;
    throw error;
  }
}
