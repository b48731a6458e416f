import { mkdtempSync, rmSync } from "node:fs";
import { mkdir, readdir, readFile, realpath, rename, rm, stat, writeFile } from "node:fs/promises";
import { basename, dirname, extname, join, resolve } from "node:path";
import { PLAN_FILE_NAMES, type PlanFile } from "../src/export/plan-files.ts";
import { TOOL } from "../src/version.ts";
import { EXIT } from "./exit-codes.ts";
import { misuse, Refusal } from "./refusal.ts";

/** Folder of the results where `--out` is not given: named after the first input, here. */
export function defaultFolder(firstInput: string): string {
  return basename(firstInput, extname(firstInput));
}

/**
 * Refuses a folder that holds anything but an earlier result of ours, before any work is done.
 *
 * @returns the folder's real path, so that a link to a folder stays a link
 */
export async function claimFolder(folder: string): Promise<string> {
  const path = await realpath(folder).catch(() => resolve(folder));
  const info = await stat(path).catch(() => undefined);
  if (!info) return path;
  if (!info.isDirectory()) throw notOurs(folder, "is a file, not a folder");
  const names = await readdir(path).catch((error) => {
    throw notWritable(folder, error);
  });
  if (names.length === 0) return path;
  const foreign = names.filter((name) => !(PLAN_FILE_NAMES as readonly string[]).includes(name));
  if (foreign.length > 0) throw notOurs(folder, `also holds ${foreign.slice(0, 3).join(", ")}`);
  if (!(await isSummaryOfOurs(join(path, "summary.json")))) {
    throw notOurs(folder, "holds no summary.json of ours");
  }
  return path;
}

async function isSummaryOfOurs(path: string): Promise<boolean> {
  try {
    return JSON.parse(await readFile(path, "utf8")).tool === TOOL;
  } catch {
    return false;
  }
}

/**
 * Writes all files into a folder, or leaves everything as it was: they are written to a folder
 * beside it, which then takes its place. Ctrl-C on the way removes what was begun.
 */
export async function writeFolder(path: string, files: readonly PlanFile[]): Promise<void> {
  const parent = dirname(path);
  let begun: string | undefined;
  let swapping = false;
  const onInterrupt = () => {
    // The two renames are over in an instant: they are let finish.
    if (swapping) return;
    if (begun) rmSync(begun, { recursive: true, force: true });
    process.exit(EXIT.interrupted);
  };
  process.on("SIGINT", onInterrupt);
  try {
    await mkdir(parent, { recursive: true });
    begun = mkdtempSync(join(parent, `.${TOOL}-`));
    const fresh = join(begun, "new");
    await mkdir(fresh);
    for (const file of files) await writeFile(join(fresh, file.name), file.text);
    swapping = true;
    await swapIn(fresh, path, join(begun, "old"));
  } catch (error) {
    throw error instanceof Refusal ? error : notWritable(path, error);
  } finally {
    process.off("SIGINT", onInterrupt);
    if (begun) await rm(begun, { recursive: true, force: true });
  }
}

/** Two renames; when the second fails the first is taken back. */
async function swapIn(fresh: string, path: string, aside: string): Promise<void> {
  const replaces = await stat(path).then(
    () => true,
    () => false,
  );
  if (replaces) await rename(path, aside);
  try {
    await rename(fresh, path);
  } catch (error) {
    if (replaces) await rename(aside, path);
    throw error;
  }
}

function notOurs(folder: string, why: string): Refusal {
  return misuse(
    "OUT_NOT_OURS",
    `The output folder ${folder} ${why}: nothing was written.`,
    "Choose another folder with --out, or move what is in this one.",
    folder,
  );
}

function notWritable(folder: string, error: unknown): unknown {
  const code = (error as NodeJS.ErrnoException).code;
  if (code === undefined) return error;
  return misuse(
    "OUT_NOT_WRITABLE",
    `The output folder ${folder} cannot be written (${code}): nothing was written.`,
    "Choose a folder that you may write to with --out.",
    folder,
  );
}
