/** The writer of results, stopped before each single change that it makes to the file system. */
import { mkdir, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { beforeEach, describe, expect, it, vi } from "vitest";
import { Refusal } from "../../../cli/refusal.ts";
import { claimFolder } from "../../../cli/results/claim-folder.ts";
import { FILE_OPS, type FileOps } from "../../../cli/results/file-ops.ts";
import { writeFolder } from "../../../cli/results/write-folder.ts";
import type { PlanFile } from "../../../src/export/plan-files.ts";
import { emptyFolder } from "../run.ts";
import { Died, dyingAt, failingAt, without } from "./dying-ops.ts";
import { allIn, asSeen, resultOf, seen } from "./folder.ts";

const owner = vi.hoisted(() => ({ start: 0 }));
// Each "process" of a test is this one, told apart by its start: those before are dead.
vi.mock("node:fs", async (original) => {
  const fs = await original<typeof import("node:fs")>();
  const readFileSync = (path: string, ...rest: unknown[]) =>
    String(path).startsWith("/proc/") && String(path).endsWith("/stat")
      ? `${process.pid} (node) S ${"0 ".repeat(18)}${owner.start} 0`
      : // biome-ignore lint/suspicious/noExplicitAny: passes on whatever it is given
        (fs.readFileSync as any)(path, ...rest);
  return { ...fs, readFileSync, default: { ...fs, readFileSync } };
});
beforeEach(() => {
  owner.start = 1;
});

const OLD = resultOf("a");
const NEW = resultOf("b");
const LAST = resultOf("c");

/** One run of the command as far as it touches the file system, in a process of its own. */
async function run(folder: string, files: readonly PlanFile[], ops: FileOps = FILE_OPS) {
  owner.start++;
  const claim = await claimFolder(folder, [], ops);
  return writeFolder(claim, files, () => {}, ops);
}

type Before = "no folder" | "an empty folder" | "an earlier result" | "a folder without its plan";

async function prepared(before: Before): Promise<string> {
  const parent = await emptyFolder();
  const folder = join(parent, before === "no folder" ? "a/garden" : "garden");
  if (before === "an empty folder") await mkdir(folder);
  if (before === "an earlier result") await run(folder, OLD);
  if (before === "a folder without its plan") await run(folder, OLD.slice(1));
  return folder;
}

const STATES: [Before, Record<string, string>[]][] = [
  ["no folder", []],
  ["an empty folder", [{}]],
  ["an earlier result", [asSeen(OLD)]],
  ["a folder without its plan", [asSeen(OLD.slice(1))]],
];

describe.each(STATES)("with %s before", (before, old) => {
  it("killed before any change, what was there is whole or what comes; the next run tidies up", async () => {
    let kills = 0;
    let sawOld = 0;
    for (let moment = 1; ; moment++) {
      const folder = await prepared(before);
      const { ops } = dyingAt(moment);
      const died = await run(folder, NEW, ops).then(
        () => false,
        (error) => {
          if (!(error instanceof Died)) throw error;
          return true;
        },
      );
      const now = await seen(folder);
      const wholes = [...old, asSeen(NEW), ...(before === "no folder" ? [undefined] : [])];
      expect(wholes, `killed at change ${moment}`).toContainEqual(now);
      if (!died) break;
      kills++;
      if (JSON.stringify(now) !== JSON.stringify(asSeen(NEW))) sawOld++;
      await run(folder, LAST);
      expect(await seen(folder)).toEqual(asSeen(LAST));
      expect(await allIn(folder)).toEqual(["plan.geojson", "summary.json"]);
      expect(await allIn(join(folder, ".."))).toHaveLength(3);
    }
    // Both sides of the moment of exchange were seen, so the loop went over it.
    expect(sawOld).toBeGreaterThan(3);
    expect(kills - sawOld).toBeGreaterThan(1);
  });

  it.each(["ENOSPC", "EIO", "EACCES"])(
    "a change that fails with %s is refused with a code, and nothing is harmed or left",
    async (code) => {
      for (let moment = 1; ; moment++) {
        const folder = await prepared(before);
        const { ops, count } = failingAt(moment, code);
        const end = await run(folder, NEW, ops).then(
          (findings) => ({ findings }),
          (error) => ({ error }),
        );
        if (count() < moment) break;
        const now = await seen(folder);
        if ("error" in end) {
          expect(end.error).toBeInstanceOf(Refusal);
          expect(end.error.problem.code).toMatch(/^OUT_(DISK_FULL|NOT_WRITABLE)$/);
          expect(end.error.problem.code === "OUT_DISK_FULL").toBe(code === "ENOSPC");
          expect([...old, undefined]).toContainEqual(now);
          // Where removing failed too, the next run does it.
          await run(folder, LAST);
          expect(await allIn(folder)).toEqual(["plan.geojson", "summary.json"]);
        } else {
          expect(now).toEqual(asSeen(NEW));
          const isTidy = (await allIn(join(folder, ".."))).every(
            (name) => !name.includes(".pegline-"),
          );
          expect(end.findings.map((one) => one.code)).toEqual(isTidy ? [] : ["OUT_LEFTOVERS"]);
        }
      }
    },
  );
});

describe("a run that is killed while it tidies up after one that was killed", () => {
  it("loses nothing either", async () => {
    for (let first = 8; first <= 40; first += 4) {
      for (let second = 1; second <= 24; second += 3) {
        const folder = await prepared("an earlier result");
        await run(folder, NEW, dyingAt(first).ops).catch(() => {});
        const between = await seen(folder);
        await run(folder, LAST, dyingAt(second).ops).catch(() => {});
        expect([between, asSeen(LAST)]).toContainEqual(await seen(folder));
        await run(folder, LAST);
        expect(await allIn(folder)).toEqual(["plan.geojson", "summary.json"]);
      }
    }
  });
});

describe("a file system without links", () => {
  it.each([[["symlink"]], [["link"]], [["link", "symlink"]]])(
    "lacks %j: all is written",
    async (names) => {
      const folder = await prepared("an earlier result");
      expect(await run(folder, NEW, without(names, "EPERM"))).toEqual([]);
      expect(await seen(folder)).toEqual(asSeen(NEW));
      expect(await allIn(join(folder, ".."))).toHaveLength(3);
    },
  );

  it("killed at any change there, the old result is at its place after the next start at the latest", async () => {
    let gone = 0;
    for (let moment = 1; ; moment++) {
      const folder = await prepared("an earlier result");
      const { ops } = dyingAt(moment);
      const died = await run(folder, NEW, {
        ...ops,
        symlink: without(["symlink"], "EPERM").symlink,
      }).then(
        () => false,
        () => true,
      );
      if (!died) break;
      if ((await seen(folder)) === undefined) gone++;
      owner.start++;
      await claimFolder(folder);
      expect([asSeen(OLD), asSeen(NEW)]).toContainEqual(await seen(folder));
      expect(await allIn(folder)).toEqual(["plan.geojson", "summary.json"]);
      expect(await allIn(join(folder, ".."))).toHaveLength(3);
    }
    // The one moment between the two renames.
    expect(gone).toBe(1);
  });
});

describe("two runs at once", () => {
  it.each<[Before]>([["no folder"], ["an earlier result"]])(
    "with %s: the one that comes second is refused",
    async (before) => {
      const folder = await prepared(before);
      owner.start++;
      const first = await claimFolder(folder);
      const second = await claimFolder(folder);
      await writeFolder(first, NEW);
      await expect(writeFolder(second, LAST)).rejects.toMatchObject({
        problem: { code: "OUT_BUSY" },
      });
      expect(await seen(folder)).toEqual(asSeen(NEW));
      expect(await allIn(join(folder, ".."))).toHaveLength(3);
    },
  );

  it("refuses while another is in the middle of its exchange", async () => {
    const folder = await prepared("an earlier result");
    owner.start++;
    let asked: Promise<unknown> | undefined;
    const ops: FileOps = {
      ...FILE_OPS,
      symlink: async (...args: Parameters<FileOps["symlink"]>) => {
        asked ??= claimFolder(folder).then(
          () => "claimed",
          (error) => error.problem.code,
        );
        await asked;
        return FILE_OPS.symlink(...args);
      },
    };
    await writeFolder(await claimFolder(folder), NEW, () => {}, ops);
    expect(await asked).toBe("OUT_BUSY");
    expect(await seen(folder)).toEqual(asSeen(NEW));
  });

  it("many at the same time leave one result whole and nothing else", async () => {
    const folder = await prepared("an earlier result");
    owner.start++;
    const letters = [..."defghijk"];
    const ends = await Promise.allSettled(
      letters.map(async (letter) => writeFolder(await claimFolder(folder), resultOf(letter))),
    );
    const codes = ends.map((end) =>
      end.status === "fulfilled" ? "written" : end.reason.problem.code,
    );
    expect(new Set(codes)).toEqual(new Set(["written", "OUT_BUSY"]));
    const now = await seen(folder);
    expect(letters.map((letter) => asSeen(resultOf(letter)))).toContainEqual(now);
    expect(await allIn(join(folder, ".."))).toHaveLength(3);
  });

  it("a folder into which somebody puts a file of theirs meanwhile is left alone", async () => {
    const folder = await prepared("an earlier result");
    owner.start++;
    const claim = await claimFolder(folder);
    await writeFile(join(folder, "notes.txt"), "mine");
    await expect(writeFolder(claim, NEW)).rejects.toMatchObject({
      problem: { code: "OUT_NOT_OURS" },
    });
    expect(await seen(folder)).toEqual({ ...asSeen(OLD), "notes.txt": "mine" });
  });
});
