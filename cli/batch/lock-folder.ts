import { mkdir, readdir, rmdir, stat, utimes } from "node:fs/promises";
import { join } from "node:path";
import { unless } from "../results/file-ops.ts";
import { isAtWork, OWNER_PATTERN, thisOwner } from "../results/owner.ts";
import { busy } from "../results/refusals.ts";

const LOCK = new RegExp(`^lock-(${OWNER_PATTERN})$`);

/** How often a lock shows that its owner is at work, milliseconds: other hosts know it by that alone. */
const BEAT_MS = 60_000;

/**
 * Takes a folder for this process alone, and takes over from a process that was killed.
 *
 * @returns lets go of it
 * @throws OUT_BUSY where a process is at work in it. Two that come at once may both be refused
 */
export async function lockFolder(path: string): Promise<() => Promise<void>> {
  const own = join(path, `lock-${thisOwner()}`);
  await mkdir(own, { recursive: true });
  for (const name of await readdir(path)) {
    const owner = LOCK.exec(name)?.[1];
    const lock = join(path, name);
    if (owner === undefined || lock === own) continue;
    const info = await unless(stat(lock), "ENOENT");
    if (info && isAtWork(owner, Date.now() - info.mtimeMs)) {
      await unless(rmdir(own), "ENOENT");
      throw busy(path, "is being written by another command");
    }
    await unless(rmdir(lock), "ENOENT");
  }
  const beat = setInterval(() => {
    utimes(own, new Date(), new Date()).catch(() => {});
  }, BEAT_MS).unref();
  return async () => {
    clearInterval(beat);
    await unless(rmdir(own), "ENOENT");
  };
}
