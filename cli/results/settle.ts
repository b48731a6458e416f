import { join } from "node:path";
import { syncFolder } from "./durable.ts";
import { type FileOps, unless } from "./file-ops.ts";
import { TURN } from "./work-folder.ts";

/** In the work folder whose turn it is: a link to the files that the result shows at the moment. */
export const SHOWN = "shown";

/** What a file of the result is while files are exchanged: a link by way of `SHOWN`. */
export const linkOf = (name: string) => join(TURN, SHOWN, name);

/**
 * Makes files again of the links that an exchange has put in their place. Every file keeps what it
 * shows, old or new, so this ends an exchange that is complete and takes one back that is not. It
 * can be stopped anywhere and begun again.
 */
export async function settle(ops: FileOps, folder: string): Promise<void> {
  let moved = false;
  for (const name of await ops.readdir(folder)) {
    const path = join(folder, name);
    if ((await linkTarget(ops, path)) !== linkOf(name)) continue;
    // What it shows takes its place; where it shows nothing there is no such file in this result.
    const file = join(folder, linkOf(name));
    const isThere = await unless(ops.lstat(file), "ENOENT");
    await unless(isThere ? ops.rename(file, path) : ops.unlink(path), "ENOENT");
    moved = true;
  }
  if (moved) await syncFolder(ops, folder);
}

async function linkTarget(ops: FileOps, path: string): Promise<string | undefined> {
  return unless(ops.readlink(path), "EINVAL", "ENOENT", "UNKNOWN");
}
