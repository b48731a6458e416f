/**
 * Work folders: hidden, named after the process that makes them, so that a later run can tell what
 * a killed one left from what a running one needs.
 */
import { randomBytes } from "node:crypto";
import { basename, join } from "node:path";
import { TOOL } from "../../src/version.ts";
import { type FileOps, unless } from "./file-ops.ts";
import { isAtWork, OWNER_PATTERN, type Owner, thisOwner } from "./owner.ts";

/** The one work folder that may change the files of a result; it lies among them. */
export const TURN = `.${TOOL}-turn`;

/** In a work folder: files of the new result, and what an interrupted exchange of folders set aside. */
export const NEW = "new";
export const ASIDE = "aside";

const NAME = new RegExp(`^\\.${TOOL}-(${OWNER_PATTERN})-\\w{6}$`);
const OWNED = new RegExp(`^owner-(${OWNER_PATTERN})$`);

/** Whether a name in a folder is a work folder of ours. */
export function isWorkName(name: string): boolean {
  return name === TURN || NAME.test(name);
}

/** A new work folder inside another; inside it an entry that names its owner, whatever it is renamed to. */
export async function makeWorkFolder(ops: FileOps, inside: string): Promise<string> {
  const owner = thisOwner();
  // Not mkdtemp, which keeps others out: while files are exchanged, all may read by way of it.
  const work = join(inside, `.${TOOL}-${owner}-${randomBytes(3).toString("hex")}`);
  await ops.mkdir(work);
  await ops.mkdir(join(work, `owner-${owner}`));
  return work;
}

/** Who owns a work folder; undefined where it is gone or its maker was stopped while making it. */
export async function ownerOf(ops: FileOps, work: string): Promise<Owner | undefined> {
  const named = NAME.exec(basename(work))?.[1];
  if (named !== undefined) return named;
  const names = (await unless(ops.readdir(work), "ENOENT")) ?? [];
  return names.map((name) => OWNED.exec(name)?.[1]).find((owner) => owner !== undefined);
}

/** Whether the maker of a work folder is still at work. */
export async function isInUse(ops: FileOps, work: string): Promise<boolean> {
  const owner = await ownerOf(ops, work);
  const info = await unless(ops.lstat(work), "ENOENT");
  if (!info) return false;
  return owner !== undefined && isAtWork(owner, Date.now() - info.mtimeMs);
}

export async function remove(ops: FileOps, path: string): Promise<void> {
  await ops.rm(path, { recursive: true, force: true, maxRetries: 2 });
}
