import { dirname, join } from "node:path";
import type { ResultFile } from "../../src/export/plan-files.ts";
import type { Finding } from "../../src/model/finding.ts";
import { Refusal } from "../refusal.ts";
import { type Claim, filesOf } from "./claim-folder.ts";
import { syncFile, syncFolder, writeDurably } from "./durable.ts";
import { exchangeFiles, NO_LINKS } from "./exchange-files.ts";
import { exchangeFolders } from "./exchange-folders.ts";
import { codeOfError, FILE_OPS, type FileOps, unless } from "./file-ops.ts";
import { endTurn } from "./recover.ts";
import { busy, notWritable } from "./refusals.ts";
import { settle } from "./settle.ts";
import { makeWorkFolder, NEW, remove, TURN } from "./work-folder.ts";

/** A file of a result: its content, or the path of a file that lies ready and is on the disk. */
export type StagedFile = ResultFile | { readonly name: string; readonly ready: string };

/** What a rename says when something is in its place. */
const IN_PLACE = ["ENOTEMPTY", "EEXIST", "ENOTDIR", "EISDIR"];

/**
 * Writes all files into a claimed folder, or leaves everything as it was. Stopped or killed at any
 * moment, the old result is there whole or the new one.
 *
 * @param checkStop called where the work may still be given up; it throws to stop it
 * @returns findings about the writing itself
 * @throws OUT_BUSY when the folder is not as it was claimed; OUT_DISK_FULL, OUT_NOT_WRITABLE
 */
export async function writeFolder(
  claim: Claim,
  files: readonly StagedFile[],
  checkStop: () => void = () => {},
  ops: FileOps = FILE_OPS,
): Promise<Finding[]> {
  try {
    return claim.before
      ? await replaceFolder(ops, claim, files, checkStop)
      : await newFolder(ops, claim, files, checkStop);
  } catch (error) {
    throw notWritable(claim.folder, error);
  }
}

/** Files in a work folder beside the place, which one rename puts there. */
async function newFolder(
  ops: FileOps,
  { folder, path }: Claim,
  files: readonly StagedFile[],
  checkStop: () => void,
): Promise<Finding[]> {
  const parent = dirname(path);
  const made = await ops.mkdir(parent, { recursive: true });
  let work: string | undefined;
  try {
    work = await makeWorkFolder(ops, parent);
    await stage(ops, work, files, checkStop);
    await ops.rename(join(work, NEW), path);
  } catch (error) {
    if (work !== undefined) await quietly(remove(ops, work));
    if (made !== undefined) await quietly(removeEmpty(ops, parent, made));
    const code = codeOfError(error);
    if (code !== undefined && (IN_PLACE.includes(code) || (await isThere(ops, path)))) {
      throw busy(folder, "has appeared meanwhile");
    }
    throw error;
  }
  await syncFolder(ops, parent);
  return tidied(folder, () => remove(ops, work));
}

/** Files in a work folder inside the place, which takes its turn to exchange them. */
async function replaceFolder(
  ops: FileOps,
  claim: Claim,
  files: readonly StagedFile[],
  checkStop: () => void,
): Promise<Finding[]> {
  const { folder, path, before } = claim;
  const work = await makeWorkFolder(ops, path);
  const turn = join(path, TURN);
  let isOurTurn = false;
  try {
    await stage(ops, work, files, checkStop);
    await endTurn(ops, path);
    await ops.rename(work, turn);
    isOurTurn = true;
    await refuseChange(ops, claim);
    const names = files.map((file) => file.name);
    const exchanged = await exchangeFiles(ops, path, [...before!.keys()], names);
    if (!exchanged) await exchangeFolders(ops, path);
    if (exchanged?.untidy !== undefined) return [leftovers(folder, exchanged.untidy)];
  } catch (error) {
    await quietly(isOurTurn ? giveUpTurn(ops, path, work) : remove(ops, work));
    if (!isOurTurn && IN_PLACE.includes(codeOfError(error) ?? "")) {
      throw busy(folder, "is being written by another command");
    }
    throw error;
  }
  return tidied(folder, async () => {
    await giveUpTurn(ops, path, work);
    await syncFolder(ops, path);
  });
}

/**
 * Ends a turn of ours. Nothing is removed before every file is a file again, and nothing under the
 * name that the next one takes.
 */
async function giveUpTurn(ops: FileOps, path: string, work: string): Promise<void> {
  await settle(ops, path);
  await unless(ops.rename(join(path, TURN), work), "ENOENT");
  await remove(ops, work);
}

async function stage(
  ops: FileOps,
  work: string,
  files: readonly StagedFile[],
  checkStop: () => void,
): Promise<void> {
  const fresh = join(work, NEW);
  await ops.mkdir(fresh);
  for (const file of files) {
    checkStop();
    const place = join(fresh, file.name);
    if ("ready" in file) await takeReady(ops, file.ready, place);
    else await writeDurably(ops, place, "text" in file ? file.text : file.bytes);
  }
  await syncFolder(ops, fresh);
  checkStop();
}

/** A second name, so that a kill loses nothing; a copy where there are none. The first one stays. */
async function takeReady(ops: FileOps, ready: string, place: string): Promise<void> {
  const linked = await unless(
    ops.link(ready, place).then(() => true),
    ...NO_LINKS,
  );
  if (linked) return;
  await ops.copyFile(ready, place);
  await syncFile(ops, place);
}

/** Whoever has written the folder since it was claimed would lose that. */
async function refuseChange(ops: FileOps, { folder, path, before, kind }: Claim): Promise<void> {
  const now = (await filesOf(ops, folder, path, kind)) ?? new Map();
  const isSame =
    now.size === before!.size && [...now].every(([name, mark]) => before!.get(name) === mark);
  if (!isSame) throw busy(folder, "has been written by another command meanwhile");
}

async function isThere(ops: FileOps, path: string): Promise<boolean> {
  return (await unless(ops.lstat(path), "ENOENT", "ENOTDIR")) !== undefined;
}

/** Folders that were made for the results and hold nothing, from the innermost up. */
async function removeEmpty(ops: FileOps, path: string, last: string): Promise<void> {
  await ops.rmdir(path);
  if (path !== last) await removeEmpty(ops, dirname(path), last);
}

/** Takes back what was begun; where even that fails, the failure that led here is the one to tell. */
async function quietly(work: Promise<void>): Promise<void> {
  await work.catch((error: unknown) => {
    if (error instanceof Refusal || codeOfError(error) === undefined) throw error;
  });
}

async function tidied(folder: string, tidy: () => Promise<void>): Promise<Finding[]> {
  try {
    await tidy();
    return [];
  } catch (error) {
    return [leftovers(folder, error)];
  }
}

function leftovers(folder: string, error: unknown): Finding {
  const code = codeOfError(error);
  if (code === undefined) throw error;
  return {
    code: "OUT_LEFTOVERS",
    severity: "warning",
    file: folder,
    message: `The results are written, but what was needed to write them could not be removed (${code}).`,
    remedy: `Run the command again, which tidies up, or remove the hidden folders whose names begin with .pegline-.`,
  };
}
