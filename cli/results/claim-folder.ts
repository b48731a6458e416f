import { constants } from "node:fs";
import { basename, dirname, join, resolve, sep } from "node:path";
import { PLAN_FILE_NAMES } from "../../src/export/plan-files.ts";
import { TOOL } from "../../src/version.ts";
import { FILE_OPS, type FileOps, unless } from "./file-ops.ts";
import { recover } from "./recover.ts";
import { holdsInput, notOurs, notWritable } from "./refusals.ts";
import { isWorkName } from "./work-folder.ts";

/** A kind of result: the names of its files, and the one among them that says it is ours. */
export interface ResultKind {
  readonly names: readonly string[];
  readonly mark: string;
}

export const PLAN_RESULT: ResultKind = { names: PLAN_FILE_NAMES, mark: "summary.json" };

/** An output folder that may be written, as it was when it was looked at. */
export interface Claim {
  /** As the user gave it, for messages. */
  readonly folder: string;
  /** Real path, so that a link to a folder stays a link. */
  readonly path: string;
  /** Files of the earlier result with marks that change when they do; undefined where there is no folder. */
  readonly before: ReadonlyMap<string, string> | undefined;
  readonly kind: ResultKind;
}

/**
 * Looks at an output folder before any work is done: puts in order what a killed run left there and
 * refuses what must not or cannot be written.
 *
 * @param inputs paths of files that the results must not replace
 * @throws OUT_NOT_OURS for anything but a new folder, an empty one or an earlier result; OUT_BUSY,
 *   OUT_HOLDS_INPUT, OUT_NOT_WRITABLE
 */
export async function claimFolder(
  folder: string,
  inputs: readonly string[] = [],
  ops: FileOps = FILE_OPS,
  kind: ResultKind = PLAN_RESULT,
): Promise<Claim> {
  try {
    const path = await realPathOf(ops, folder, resolve(folder));
    const parent = await nearestFolder(ops, dirname(path));
    if (dirname(path) === parent) await recover(ops, parent, path);
    const before = await filesOf(ops, folder, path, kind);
    if (before) await refuseInputs(ops, folder, path, inputs);
    await ops.access(before ? path : parent, constants.W_OK | constants.X_OK);
    return { folder, path, before, kind };
  } catch (error) {
    throw notWritable(folder, error);
  }
}

async function realPathOf(ops: FileOps, folder: string, path: string): Promise<string> {
  const real = await unless(ops.realpath(path), "ENOENT");
  if (real !== undefined) return real;
  const info = await unless(ops.lstat(path), "ENOENT");
  if (info?.isSymbolicLink()) throw notOurs(folder, "leads by way of a link to nowhere");
  // What there is of the path is taken as it really is: the rest is to be made.
  const parent = dirname(path);
  return parent === path ? path : join(await realPathOf(ops, folder, parent), basename(path));
}

/** The folder itself or the nearest one above it that exists. */
async function nearestFolder(ops: FileOps, path: string): Promise<string> {
  const isThere = await unless(ops.lstat(path), "ENOENT");
  return isThere || dirname(path) === path ? path : nearestFolder(ops, dirname(path));
}

/** Files of an earlier result, or undefined where there is no folder. */
export async function filesOf(
  ops: FileOps,
  folder: string,
  path: string,
  { names: known, mark }: ResultKind,
): Promise<ReadonlyMap<string, string> | undefined> {
  const info = await unless(ops.lstat(path), "ENOENT");
  if (!info) return undefined;
  if (!info.isDirectory()) throw notOurs(folder, "is a file, not a folder");
  const names = (await ops.readdir(path)).filter((name) => !isWorkName(name)).sort();
  const foreign = names.filter((name) => !known.includes(name));
  if (foreign.length > 0) throw notOurs(folder, `also holds ${foreign.slice(0, 3).join(", ")}`);
  const files = new Map<string, string>();
  for (const name of names) {
    const one = await ops.lstat(join(path, name), { bigint: true });
    if (!one.isFile()) throw notOurs(folder, `holds ${name}, which is no plain file`);
    files.set(name, `${one.ino} ${one.size} ${one.mtimeNs}`);
  }
  if (names.length > 0 && !(await isOfOurs(ops, join(path, mark)))) {
    throw notOurs(folder, `holds no ${mark} of ours`);
  }
  return files;
}

async function isOfOurs(ops: FileOps, path: string): Promise<boolean> {
  try {
    return JSON.parse(await ops.readFile(path, "utf8")).tool === TOOL;
  } catch {
    return false;
  }
}

async function refuseInputs(
  ops: FileOps,
  folder: string,
  path: string,
  inputs: readonly string[],
): Promise<void> {
  for (const input of inputs) {
    const real = await ops.realpath(input).catch(() => resolve(input));
    if (real.startsWith(path + sep)) throw holdsInput(folder, input);
  }
}
