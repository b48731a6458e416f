/**
 * The folder in which a batch grows: whatever was cut off it, or torn, at any byte, the next run
 * brings it to the same end. Loss of power may leave each file at any length, or with zeros.
 */
import { cp, readdir, readFile, truncate, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { expect, it } from "vitest";
import { InTurn } from "../../cli/batch/in-turn.ts";
import { runPlots } from "../../cli/batch/run-plots.ts";
import { StreamSink } from "../../cli/batch/stream-sink.ts";
import { Unfinished } from "../../cli/batch/unfinished.ts";
import { faultyRecord } from "../../src/batch/faulty-record.ts";
import type { PlotRecord } from "../../src/batch/plot-text.ts";
import { emptyFolder } from "../cli/run.ts";
import { seeded } from "../support/seeded.ts";

const COUNT = 12;

function record(number: number): PlotRecord {
  const { row } = faultyRecord({ number, name: `plot ${number}, "é"` }, "lines", "as if");
  const text = `{"plot":${number},"much":"${"€".repeat(number % 4)}"}\n`.repeat(number % 3);
  return { row, text };
}

async function seen(path: string) {
  return {
    plans: await readFile(join(path, "plans.geojsonl"), "utf8"),
    table: await readFile(join(path, "plots.csv"), "utf8"),
  };
}

/** Goes on with a batch to its end; says which plots were still to be done. */
async function toEnd(path: string, order: readonly number[]) {
  const sink = await Unfinished.open(path, "job", false);
  const missing = order.filter((number) => !sink.has(number));
  for (const number of missing) await sink.put(number, record(number));
  await sink.finish();
  return { missing, totals: sink.totals };
}

const inOrder = Array.from({ length: COUNT }, (_, i) => i + 1);

async function whole() {
  const path = join(await emptyFolder(), "whole.unfinished");
  const { totals } = await toEnd(path, inOrder);
  return { ...(await seen(path)), totals };
}

it("results come out in order, whatever the order in which they are done", async () => {
  const expected = await whole();
  const random = seeded(5);
  for (let i = 0; i < 5; i++) {
    const path = join(await emptyFolder(), "b.unfinished");
    const mixed = [...inOrder].sort(() => random() - 0.5);
    expect((await toEnd(path, mixed)).totals).toEqual(expected.totals);
    expect(await seen(path)).toEqual({ plans: expected.plans, table: expected.table });
    expect(await readdir(join(path, "ahead"))).toEqual([]);
  }
});

it("cut off at any place it comes to the same end, and what was written whole is not done again", async () => {
  const expected = await whole();
  const random = seeded(11);
  let kept = 0;
  for (let i = 0; i < 36; i++) {
    const folder = await emptyFolder();
    const path = join(folder, "b.unfinished");
    const sink = await Unfinished.open(path, "job", false);
    const order = [...inOrder].sort(() => (i % 2 ? 0 : random() - 0.5)).slice(0, 8);
    for (const number of order) await sink.put(number, record(number));
    // As if killed here: a copy, in which each file then ends anywhere.
    const copy = join(folder, "c.unfinished");
    await cp(path, copy, { recursive: true });
    await sink.close();
    const names = ["plans.geojsonl", "plots.csv", "journal.jsonl"];
    const early = (await readdir(join(copy, "ahead"))).map((name) => join("ahead", name));
    const hurt = i < 10 ? [] : [...names, ...early].filter(() => random() < 0.4);
    for (const name of hurt) {
      const bytes = await readFile(join(copy, name));
      const at = Math.floor(random() * bytes.length);
      if (random() < 0.3) await writeFile(join(copy, name), bytes.fill(0, at));
      else await truncate(join(copy, name), at);
    }
    const { missing, totals } = await toEnd(copy, inOrder);
    expect(await seen(copy), `case ${i}`).toEqual({ plans: expected.plans, table: expected.table });
    expect(totals).toEqual(expected.totals);
    if (hurt.length === 0) {
      expect(missing).toHaveLength(COUNT - 8);
      kept++;
    }
  }
  expect(kept).toBeGreaterThan(9);
});

it("another batch, a foreign folder and one at work are refused; --restart begins anew", async () => {
  const folder = await emptyFolder();
  const path = join(folder, "b.unfinished");
  const sink = await Unfinished.open(path, "job", false);
  await sink.put(1, record(1));
  await sink.close();
  const code = async (work: Promise<unknown>) =>
    work.then(
      () => "none",
      (error: { problem?: { code: string } }) => error.problem?.code,
    );
  expect(await code(Unfinished.open(path, "other", false))).toBe("BATCH_UNFINISHED_OTHER");
  const anew = await Unfinished.open(path, "other", true);
  expect(anew.resumed).toBe(0);
  await anew.close();
  await writeFile(join(folder, "mine.txt"), "");
  expect(await code(Unfinished.open(folder, "job", true))).toBe("OUT_NOT_OURS");
  expect(await readdir(folder)).toContain("mine.txt");
  expect((await readdir(folder)).filter((name) => name.startsWith("lock-"))).toEqual([]);
  // Process 1 is always at work; a lock of a process that is gone is taken over.
  const { thisOwner } = await import("../../cli/results/owner.ts");
  const { mkdir } = await import("node:fs/promises");
  const [host] = thisOwner().split("-");
  await mkdir(join(path, `lock-${host}-4194303-1`));
  await (await Unfinished.open(path, "other", false)).close();
  expect((await readdir(path)).filter((name) => name.startsWith("lock-"))).toEqual([]);
});

it("a stream is passed on in order and holds few early results", async () => {
  const out: string[] = [];
  const sink = new StreamSink(async (text) => {
    out.push(text);
  });
  const waits = [40, 5, 5, 30, 1, 1, 1, 1];
  let most = 0;
  let atWork = 0;
  const plots = waits.map((ms, i) => ({ number: i + 1, ms }));
  const plan = async ({ number, ms }: { number: number; ms: number }) => {
    most = Math.max(most, ++atWork);
    await new Promise((done) => setTimeout(done, ms));
    atWork--;
    return { ...record(number), text: `${number}` };
  };
  await runPlots(plots, plan, sink, 3, () => {});
  expect(out).toEqual(["1", "2", "3", "4", "5", "6", "7", "8"]);
  expect(most).toBe(3);
  expect(sink.totals.plots).toBe(8);
});

it("a list without an end is taken no faster than it is planned", async () => {
  let taken = 0;
  function* endless() {
    for (;;) yield { number: ++taken };
  }
  const sink = new StreamSink(async () => {
    if (taken > 50) throw new Error("enough");
  });
  const plan = async ({ number }: { number: number }) => record(number);
  await expect(runPlots(endless(), plan, sink, 4, () => {})).rejects.toThrow("enough");
  expect(taken).toBeLessThan(60);
});

it("works handed over are done one after the other, and one that fails stops none", async () => {
  const turns = new InTurn();
  const log: number[] = [];
  const slow = turns.run(async () => {
    await new Promise((done) => setTimeout(done, 10));
    log.push(1);
  });
  const bad = turns.run(() => Promise.reject(new Error("no")));
  const last = turns.run(async () => log.push(2));
  await expect(bad).rejects.toThrow("no");
  await Promise.all([slow, last]);
  expect(log).toEqual([1, 2]);
});
