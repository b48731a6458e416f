/**
 * Exchanges all files of a folder at one moment. A folder that holds files cannot be replaced by
 * another in one call of the file system, but a link can. So every file is first replaced by a link
 * that shows the same content by way of one common link; then that one is turned from the old files
 * to the new ones, which is the moment; then the links become files again. Whoever looks, at any
 * time, sees all files old or all files new. docs/decisions/0013-nothing-lost.md weighs it.
 */
import { join } from "node:path";
import { syncFolder } from "./durable.ts";
import { codeOfError, type FileOps, unless } from "./file-ops.ts";
import { linkOf, SHOWN, settle } from "./settle.ts";
import { NEW, TURN } from "./work-folder.ts";

const OLD = "old";
/** Where links are made before they are moved to their place. */
const LINKS = "links";

/** What a file system says that has no links, or does not let everyone make them. */
export const NO_LINKS: readonly string[] = [
  "EPERM",
  "EACCES",
  "ENOSYS",
  "ENOTSUP",
  "EOPNOTSUPP",
  "EINVAL",
  "UNKNOWN",
];

export interface Exchanged {
  /** What went wrong after the new result was in place: it is there, but not tidied up. */
  readonly untidy?: unknown;
}

/**
 * Exchanges the files of a folder for those in the work folder whose turn it is.
 *
 * @param before names of the files of the old result
 * @param after names of the files of the new result, which lie in the work folder under `NEW`
 * @returns undefined where this file system has no links: then nothing was changed
 */
export async function exchangeFiles(
  ops: FileOps,
  folder: string,
  before: readonly string[],
  after: readonly string[],
): Promise<Exchanged | undefined> {
  const turn = join(folder, TURN);
  await keepOld(ops, folder, before);
  await ops.mkdir(join(turn, LINKS));
  try {
    await ops.symlink(OLD, join(turn, SHOWN));
  } catch (error) {
    if (NO_LINKS.includes(codeOfError(error) ?? "")) return undefined;
    throw error;
  }
  try {
    for (const name of new Set([...before, ...after])) {
      await ops.symlink(linkOf(name), join(turn, LINKS, name));
      await ops.rename(join(turn, LINKS, name), join(folder, name));
    }
    await ops.symlink(NEW, join(turn, LINKS, SHOWN));
    await syncFolder(ops, folder);
    await ops.rename(join(turn, LINKS, SHOWN), join(turn, SHOWN));
  } catch (error) {
    await settle(ops, folder);
    throw error;
  }
  try {
    await syncFolder(ops, turn);
    await settle(ops, folder);
    return {};
  } catch (untidy) {
    return { untidy };
  }
}

/** A second name for every old file: what the links show until the moment of the exchange. */
async function keepOld(ops: FileOps, folder: string, names: readonly string[]): Promise<void> {
  const old = join(folder, TURN, OLD);
  await ops.mkdir(old);
  for (const name of names) {
    const kept = await unless(
      ops.link(join(folder, name), join(old, name)).then(() => true),
      ...NO_LINKS,
    );
    if (!kept) await ops.copyFile(join(folder, name), join(old, name));
  }
}
