import type { FileOps } from "./file-ops.ts";

/** Writes a new file and has it on the disk, not only in memory, when the promise resolves. */
export async function writeDurably(
  ops: FileOps,
  path: string,
  data: string | Uint8Array,
): Promise<void> {
  const file = await ops.open(path, "wx");
  try {
    await file.writeFile(data);
    await file.sync();
  } finally {
    await file.close();
  }
}

/** Has a file that was written by other means on the disk. */
export async function syncFile(ops: FileOps, path: string): Promise<void> {
  const file = await ops.open(path, "r+");
  try {
    await file.sync();
  } finally {
    await file.close();
  }
}

/**
 * Has the names in a folder on the disk. Some systems cannot do that to a folder (Windows, some
 * network drives): they are left to their own ways.
 */
export async function syncFolder(ops: FileOps, path: string): Promise<void> {
  try {
    const folder = await ops.open(path, "r");
    try {
      await folder.sync();
    } finally {
      await folder.close();
    }
  } catch (error) {
    if (!(error as NodeJS.ErrnoException).syscall) throw error;
  }
}
