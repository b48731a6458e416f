import { dirname, join } from "node:path";
import { syncFolder, writeDurably } from "./durable.ts";
import { FILE_OPS, type FileOps, unless } from "./file-ops.ts";
import { sweep } from "./recover.ts";
import { makeWorkFolder, NEW, remove } from "./work-folder.ts";

/**
 * Writes one file so that it appears whole or not at all, in place of an earlier one only where that
 * is wanted. A link to a file stays a link: what it leads to is replaced.
 *
 * @returns false where something is there already and is not to be replaced
 */
export async function writeFileWhole(
  given: string,
  text: string,
  options: { readonly replace: boolean },
  ops: FileOps = FILE_OPS,
): Promise<boolean> {
  const path = options.replace ? ((await unless(ops.realpath(given), "ENOENT")) ?? given) : given;
  const parent = dirname(path);
  await sweep(ops, parent);
  const work = await makeWorkFolder(ops, parent);
  const fresh = join(work, NEW);
  try {
    await writeDurably(ops, fresh, text);
    if (options.replace) await ops.rename(fresh, path);
    else if (!(await appear(ops, fresh, path))) return false;
    await syncFolder(ops, parent);
    return true;
  } finally {
    await remove(ops, work);
  }
}

/** A second name, unlike a rename, never replaces anything; where there is none, a copy. */
async function appear(ops: FileOps, fresh: string, path: string): Promise<boolean> {
  try {
    await ops.link(fresh, path);
    return true;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === "EEXIST") return false;
  }
  if (await unless(ops.lstat(path), "ENOENT")) return false;
  await ops.rename(fresh, path);
  return true;
}
