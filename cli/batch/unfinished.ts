/**
 * Where a batch grows until it is finished: a folder beside the output folder, named after it, with
 * `.unfinished` behind. Plots are written there in order as they are done; those that are early wait
 * in `ahead`, a file each, so that neither memory nor a kill loses them.
 */
import { createHash } from "node:crypto";
import { type FileHandle, mkdir, open, readdir, readFile, rename, rm } from "node:fs/promises";
import { dirname, join } from "node:path";
import { PLOT_TABLE_HEAD, type PlotRecord, plotTableRow } from "../../src/batch/plot-text.ts";
import { misuse } from "../refusal.ts";
import { syncFolder, writeDurably } from "../results/durable.ts";
import { FILE_OPS, unless } from "../results/file-ops.ts";
import { makeWorkFolder, remove } from "../results/work-folder.ts";
import { BATCH_FILES } from "./batch-result.ts";
import { InTurn } from "./in-turn.ts";
import { hashOf, type JournalLine, journalLines, lastGood } from "./journal.ts";
import { lockFolder } from "./lock-folder.ts";
import type { PlotSink } from "./run-plots.ts";
import { NO_TOTALS, type Totals, withRow } from "./totals.ts";

const JOB = "job.json";
const JOURNAL = "journal.jsonl";
const AHEAD = "ahead";

/** Most plots that wait for one before them. */
const AHEAD_MAX = 20_000;

/** How often everything is put on the disk for good, milliseconds. */
const SYNC_MS = 5_000;

const HEAD = Buffer.from(PLOT_TABLE_HEAD);
const START = { plans: 0, table: HEAD.length };

interface Files {
  readonly plans: FileHandle;
  readonly table: FileHandle;
  readonly journal: FileHandle;
}

export class Unfinished implements PlotSink<PlotRecord> {
  readonly path: string;
  readonly #files: Files;
  readonly #unlock: () => Promise<void>;
  readonly #ahead: Set<number>;
  readonly #turns = new InTurn();
  #at: { plots: number; plans: number; table: number; end: number };
  #syncedAt = Date.now();
  totals: Totals;
  /** Plots that were done already when it was opened. */
  readonly resumed: number;

  private constructor(
    path: string,
    files: Files,
    unlock: () => Promise<void>,
    ahead: Set<number>,
    from: { line: JournalLine; end: number } | undefined,
  ) {
    this.path = path;
    this.#files = files;
    this.#unlock = unlock;
    this.#ahead = ahead;
    const { plots, plans, table, totals } = from?.line ?? { plots: 0, ...START, totals: NO_TOTALS };
    this.#at = { plots, plans, table, end: from?.end ?? 0 };
    this.totals = totals;
    this.resumed = plots + ahead.size;
  }

  /**
   * Opens the folder of a batch, new or left by an earlier run of the same.
   *
   * @param job what tells this batch from others: inputs and options, as a hash
   * @param restart what an earlier run left is removed first
   * @throws BATCH_UNFINISHED_OTHER where another batch was left there, OUT_BUSY where it is at work
   */
  static async open(path: string, job: string, restart: boolean): Promise<Unfinished> {
    await mkdir(dirname(path), { recursive: true });
    if (!(await beginNew(path, job))) {
      const unlock = await lockFolder(path);
      try {
        const known = await jobOf(path);
        if (known === job && !restart) return await Unfinished.#resume(path, unlock);
        if (known === undefined) throw notABatch(path);
        if (!restart) throw otherBatch(path);
      } catch (error) {
        await unlock();
        throw error;
      }
      await unlock();
      await removeWhole(path);
      if (!(await beginNew(path, job))) throw otherBatch(path);
    }
    return Unfinished.#resume(path, await lockFolder(path));
  }

  static async #resume(path: string, unlock: () => Promise<void>): Promise<Unfinished> {
    const files: Files = {
      plans: await open(join(path, BATCH_FILES.plans), "r+"),
      table: await open(join(path, BATCH_FILES.table), "r+"),
      journal: await open(join(path, JOURNAL), "r+"),
    };
    const lines = journalLines(await files.journal.readFile("utf8"));
    const from = await lastGood(lines, (file, a, b) => bytesOf(files[file], a, b), START);
    await files.plans.truncate(from?.line.plans ?? START.plans);
    await files.table.truncate(from?.line.table ?? START.table);
    await writeAt(files.table, HEAD, 0);
    await files.journal.truncate(from?.end ?? 0);
    const ahead = await readyAhead(join(path, AHEAD), from?.line.plots ?? 0);
    const made = new Unfinished(path, files, unlock, ahead, from);
    await made.#turns.run(() => made.#takeAhead());
    return made;
  }

  has(number: number): boolean {
    return number <= this.#at.plots || this.#ahead.has(number);
  }

  hasRoom(): boolean {
    return this.#ahead.size < AHEAD_MAX;
  }

  put(number: number, record: PlotRecord): Promise<void> {
    return this.#turns.run(async () => {
      if (number !== this.#at.plots + 1) return this.#keep(number, record);
      await this.#append(record);
      await this.#takeAhead();
    });
  }

  /** Puts everything on the disk. Plans and table are whole then, in `path`. */
  async finish(): Promise<void> {
    await this.#turns.run(() => this.#sync());
    await this.close();
  }

  /** Lets go of the folder, which stays. */
  async close(): Promise<void> {
    const { plans, table, journal } = this.#files;
    await Promise.all([plans.close(), table.close(), journal.close()]);
    await this.#unlock();
  }

  async #append({ row, text }: PlotRecord): Promise<void> {
    const plans = Buffer.from(text);
    const table = Buffer.from(plotTableRow(row));
    const at = this.#at;
    await writeAt(this.#files.plans, plans, at.plans);
    await writeAt(this.#files.table, table, at.table);
    this.totals = withRow(this.totals, row);
    this.#at = {
      plots: at.plots + 1,
      plans: at.plans + plans.length,
      table: at.table + table.length,
      end: at.end,
    };
    await this.#note(hashOf(plans, table));
    if (Date.now() - this.#syncedAt > SYNC_MS) await this.#sync();
  }

  async #note(hash: string, synced?: true): Promise<void> {
    const { plots, plans, table, end } = this.#at;
    const line: JournalLine = {
      plots,
      plans,
      table,
      hash,
      totals: this.totals,
      ...(synced && { synced }),
    };
    const bytes = Buffer.from(`${JSON.stringify(line)}\n`);
    await writeAt(this.#files.journal, bytes, end);
    this.#at = { ...this.#at, end: end + bytes.length };
  }

  async #sync(): Promise<void> {
    await this.#files.plans.datasync();
    await this.#files.table.datasync();
    if (this.#at.plots > 0) await this.#note(hashOf(NOTHING, NOTHING), true);
    await this.#files.journal.datasync();
    this.#syncedAt = Date.now();
  }

  /** An early one waits in a file of its own, which appears whole. */
  async #keep(number: number, record: PlotRecord): Promise<void> {
    const text = JSON.stringify(record);
    const path = join(this.path, AHEAD, String(number));
    const file = await open(`${path}.part`, "w");
    try {
      await file.writeFile(`${sha(text)}\n${text}`);
    } finally {
      await file.close();
    }
    await rename(`${path}.part`, path);
    this.#ahead.add(number);
  }

  async #takeAhead(): Promise<void> {
    for (;;) {
      const number = this.#at.plots + 1;
      if (!this.#ahead.has(number)) return;
      const path = join(this.path, AHEAD, String(number));
      const record = keptRecord(await readFile(path, "utf8"));
      if (record === undefined) throw new Error(`${path} has been changed from outside`);
      await this.#append(record);
      this.#ahead.delete(number);
      await rm(path, { force: true });
    }
  }
}

const NOTHING = new Uint8Array(0);
const sha = (text: string) => createHash("sha256").update(text).digest("hex");

function keptRecord(content: string): PlotRecord | undefined {
  const cut = content.indexOf("\n");
  const text = content.slice(cut + 1);
  return cut > 0 && sha(text) === content.slice(0, cut) ? JSON.parse(text) : undefined;
}

/** Makes the folder with empty files in it, all at one moment; false where there is one. */
async function beginNew(path: string, job: string): Promise<boolean> {
  const work = await makeWorkFolder(FILE_OPS, dirname(path));
  try {
    const fresh = join(work, "new");
    await mkdir(join(fresh, AHEAD), { recursive: true });
    await writeDurably(FILE_OPS, join(fresh, JOB), `${JSON.stringify({ job })}\n`);
    await writeDurably(FILE_OPS, join(fresh, BATCH_FILES.plans), "");
    await writeDurably(FILE_OPS, join(fresh, BATCH_FILES.table), PLOT_TABLE_HEAD);
    await writeDurably(FILE_OPS, join(fresh, JOURNAL), "");
    const isNew = await unless(
      rename(fresh, path).then(() => true),
      "ENOTEMPTY",
      "EEXIST",
      "ENOTDIR",
      "EPERM",
    );
    if (isNew) await syncFolder(FILE_OPS, dirname(path));
    return isNew === true;
  } finally {
    await remove(FILE_OPS, work);
  }
}

async function jobOf(path: string): Promise<string | undefined> {
  try {
    return JSON.parse(await readFile(join(path, JOB), "utf8")).job;
  } catch {
    return undefined;
  }
}

/** Removes the folder so that nobody ever finds half of it. */
export async function removeWhole(path: string): Promise<void> {
  const work = await makeWorkFolder(FILE_OPS, dirname(path));
  await unless(rename(path, join(work, "gone")), "ENOENT");
  await remove(FILE_OPS, work);
}

/** Numbers of plots that wait whole; what is torn, or written already, is removed. */
async function readyAhead(path: string, written: number): Promise<Set<number>> {
  const ready = new Set<number>();
  for (const name of await readdir(path)) {
    const file = join(path, name);
    const number = Number(name);
    const isWhole =
      /^\d+$/.test(name) && number > written && keptRecord(await readFile(file, "utf8"));
    if (isWhole) ready.add(number);
    else await rm(file, { force: true });
  }
  return ready;
}

async function bytesOf(file: FileHandle, from: number, to: number): Promise<Uint8Array> {
  const bytes = Buffer.alloc(Math.max(0, to - from));
  const { bytesRead } = await file.read(bytes, 0, bytes.length, from);
  return bytes.subarray(0, bytesRead);
}

/** `write` may write less than it is given. */
async function writeAt(file: FileHandle, bytes: Uint8Array, at: number): Promise<void> {
  let written = 0;
  while (written < bytes.length) {
    const left = bytes.length - written;
    written += (await file.write(bytes, written, left, at + written)).bytesWritten;
  }
}

function otherBatch(path: string) {
  return misuse(
    "BATCH_UNFINISHED_OTHER",
    `In ${path} lies an unfinished batch of other inputs, other options or another version.`,
    "Run that one to its end, begin anew with --restart, or choose another folder with --out.",
    path,
  );
}

function notABatch(path: string) {
  return misuse(
    "OUT_NOT_OURS",
    `${path}, in which the batch would grow, holds no batch of ours: nothing was removed.`,
    "Move it away, or choose another folder with --out.",
    path,
  );
}
