import { join } from "node:path";
import { syncFolder } from "./durable.ts";
import { type FileOps, unless } from "./file-ops.ts";
import { busy } from "./refusals.ts";
import { settle } from "./settle.ts";
import {
  ASIDE,
  isInUse,
  isWorkName,
  makeWorkFolder,
  ownerOf,
  remove,
  TURN,
} from "./work-folder.ts";

/**
 * Puts in order what runs that were killed left in and about an output folder: exchanges of files
 * are ended or taken back, a folder set aside is put back, work folders are removed. Those of
 * running commands stay.
 *
 * @param parent folder in which the output folder lies, or will
 * @throws OUT_BUSY when a running command is at work on the files of the result
 */
export async function recover(ops: FileOps, parent: string, folder: string): Promise<void> {
  await sweep(ops, parent);
  if ((await unless(ops.lstat(folder), "ENOENT"))?.isDirectory()) {
    await endTurn(ops, folder);
    await sweep(ops, folder);
  }
}

/** Ends the turn of a run that was killed. Files are settled before anything of it is removed. */
export async function endTurn(ops: FileOps, folder: string): Promise<void> {
  const turn = join(folder, TURN);
  if (!(await unless(ops.lstat(turn), "ENOENT"))) return;
  const owner = await ownerOf(ops, turn);
  if (await isInUse(ops, turn)) throw busy(folder, "is being written by another command");
  await settle(ops, folder);
  // Moved before it is removed, and looked at once more: another run may have ended it meanwhile
  // and begun its own.
  const grave = await makeWorkFolder(ops, folder);
  try {
    const taken = join(grave, TURN);
    await unless(ops.rename(turn, taken), "ENOENT");
    if ((await unless(ops.lstat(taken), "ENOENT")) && (await ownerOf(ops, taken)) !== owner) {
      await ops.rename(taken, turn);
      throw busy(folder, "is being written by another command");
    }
  } finally {
    await remove(ops, grave);
  }
}

/** Removes work folders of killed runs; a folder that one had set aside goes back to its place. */
export async function sweep(ops: FileOps, folder: string): Promise<void> {
  const names = (await unless(ops.readdir(folder), "ENOENT", "EACCES", "EPERM", "ENOTDIR")) ?? [];
  for (const name of names) {
    if (!isWorkName(name) || name === TURN) continue;
    const work = join(folder, name);
    if (await isInUse(ops, work)) continue;
    await putBack(ops, folder, work);
    await remove(ops, work);
  }
}

/** A folder that was set aside for its successor goes back, unless the successor is there. */
async function putBack(ops: FileOps, folder: string, work: string): Promise<void> {
  const aside = join(work, ASIDE);
  for (const name of (await unless(ops.readdir(aside), "ENOENT")) ?? []) {
    const place = join(folder, name);
    if (await unless(ops.lstat(place), "ENOENT")) continue;
    await ops.rename(join(aside, name), place);
    await syncFolder(ops, folder);
  }
}
