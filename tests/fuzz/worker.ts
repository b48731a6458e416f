/** Reads cases one by one in a worker, and says before each one which it is, so that a hang is known. */
import { parentPort, workerData } from "node:worker_threads";
import { minimised } from "./minimise.ts";
import { caseOf, readCase } from "./run-case.ts";
import { TARGETS } from "./targets.ts";

export interface Job {
  readonly seed: number;
  /** Targets and how many cases of each. */
  readonly counts: readonly (readonly [id: string, count: number])[];
  /** Which of the cases are this worker's: every `step`-th from `first`, the first `skip` left out. */
  readonly first: number;
  readonly step: number;
  readonly skip: number;
  /** 32-bit numbers shared with the watchdog: cases begun; of the last one when (ms), target, number. */
  readonly clock: SharedArrayBuffer;
}

const job = workerData as Job;
const clock = new Int32Array(job.clock);
const port = parentPort!;

/** Bytes on the heap and in buffers. */
function usedBytes(): number {
  const { heapUsed, arrayBuffers } = process.memoryUsage();
  return heapUsed + arrayBuffers;
}

/** The formats take turns, so that a run cut short by its time has tried all of them. */
const ROUNDS = 100;

let begun = 0;
const seen = new Set<string>();
for (let round = 0; round < ROUNDS; round++) {
  for (const [index, [id, count]] of job.counts.entries()) {
    await readRound(
      index,
      id,
      [round, round + 1].map((r) => Math.floor((count * r) / ROUNDS)),
    );
  }
}

/** Reads this worker's cases of a target from one number up to another. */
async function readRound(index: number, id: string, [from, to]: number[]): Promise<void> {
  const target = TARGETS.find((one) => one.id === id)!;
  const sums = { cases: 0, refused: 0, read: 0, planned: 0, ms: 0, bytes: 0 };
  const codes = new Set<string>();
  const slow: [ms: number, number: number][] = [];
  const large: [bytes: number, number: number][] = [];
  for (let number = from!; number < to!; number++) {
    if (number % job.step !== job.first || ++begun <= job.skip) continue;
    const one = caseOf(target, job.seed, number);
    tick();
    Atomics.store(clock, 2, index);
    Atomics.store(clock, 3, number);
    Atomics.store(clock, 0, begun);
    const before = usedBytes();
    const start = performance.now();
    const result = await readCase(target, one);
    const ms = performance.now() - start;
    sums.cases++;
    sums.ms += ms;
    for (const part of Object.values(one.parts)) sums.bytes += part.length;
    keepTop(slow, [ms, number]);
    keepTop(large, [usedBytes() - before, number]);
    if ("reached" in result) {
      sums[result.reached.end]++;
      for (const code of result.reached.codes) codes.add(code);
      continue;
    }
    const { what, stack } = result.failure;
    const isSame = async (parts: typeof one.parts) => {
      tick();
      const again = await readCase(target, { ...one, parts });
      return "failure" in again && again.failure.what === what;
    };
    const isNew = !seen.has(what);
    seen.add(what);
    const parts = isNew ? await minimised(one.parts, isSame) : one.parts;
    port.postMessage({ kind: "failure", id, number, plan: one.plan, what, stack, parts, isNew });
  }
  if (sums.cases > 0)
    port.postMessage({ kind: "sums", id, ...sums, codes: [...codes], slow, large });
}

function tick(): void {
  Atomics.store(clock, 1, Date.now() & 0x7fff_ffff);
}
port.postMessage({ kind: "end" });

function keepTop(list: [number, number][], item: [number, number]): void {
  if (list.length >= 3 && item[0] <= list.at(-1)![0]) return;
  list.push(item);
  list.sort((a, b) => b[0] - a[0]);
  list.length = Math.min(list.length, 3);
}
