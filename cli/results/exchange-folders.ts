import { basename, dirname, join } from "node:path";
import { syncFolder } from "./durable.ts";
import type { FileOps } from "./file-ops.ts";
import { ASIDE, makeWorkFolder, NEW, remove, TURN } from "./work-folder.ts";

/**
 * Exchanges a folder for the one in its work folder by two renames, where the file system has no
 * links. Killed between the two, the old folder lies whole in a work folder beside its place, and
 * the next run puts it back.
 */
export async function exchangeFolders(ops: FileOps, folder: string): Promise<void> {
  const parent = dirname(folder);
  const work = await makeWorkFolder(ops, parent);
  try {
    await ops.mkdir(join(work, ASIDE));
    await ops.rename(join(folder, TURN, NEW), join(work, NEW));
    const aside = join(work, ASIDE, basename(folder));
    await ops.rename(folder, aside);
    try {
      await ops.rename(join(work, NEW), folder);
    } catch (error) {
      await ops.rename(aside, folder);
      throw error;
    }
    await syncFolder(ops, parent);
  } finally {
    await remove(ops, work);
  }
}
