/**
 * A few worker threads, each with one task at a time. A worker that runs out of memory, takes too
 * long or comes to harm is replaced; its task says so, and the others go on.
 */
import { type ResourceLimits, Worker } from "node:worker_threads";

/** What a worker answers. */
export interface Answer<Done> {
  readonly done: Done;
  /** The worker may have come to harm and is not to be used again. */
  readonly spent: boolean;
}

/** A task whose worker is gone. */
export class WorkerLost extends Error {
  readonly reason: "time" | "memory" | "crash";

  constructor(reason: "time" | "memory" | "crash", message: string) {
    super(message);
    this.reason = reason;
  }
}

export interface PoolOptions {
  /** Module of the worker. It says `"ready"` once, then answers each task with an `Answer`. */
  readonly module: URL;
  readonly size: number;
  readonly workerData: unknown;
  /** Longest time for one task, milliseconds. */
  readonly taskMs: number;
  readonly resourceLimits?: ResourceLimits;
}

interface Task<Done> {
  readonly make: () => unknown;
  readonly done: (value: Done) => void;
  readonly fail: (error: Error) => void;
}

interface Member<Done> {
  readonly worker: Worker;
  isReady: boolean;
  task?: Task<Done> | undefined;
  timer?: NodeJS.Timeout | undefined;
}

export class WorkerPool<Done> {
  readonly #options: PoolOptions;
  readonly #members = new Set<Member<Done>>();
  readonly #waiting: Task<Done>[] = [];
  #isClosed = false;
  #broken: Error | undefined;

  constructor(options: PoolOptions) {
    this.#options = options;
  }

  /**
   * Has a task done.
   *
   * @param make makes the message for the worker, when its turn has come
   * @throws WorkerLost where the task took its worker down; any other error where no worker starts
   */
  run(make: () => unknown): Promise<Done> {
    return new Promise((done, fail) => {
      this.#waiting.push({ make, done, fail });
      this.#next();
    });
  }

  /** Ends all workers; tasks that are not done are given up. */
  async close(): Promise<void> {
    this.#isClosed = true;
    const members = [...this.#members];
    this.#members.clear();
    for (const { timer } of members) clearTimeout(timer);
    await Promise.all(members.map(({ worker }) => worker.terminate()));
  }

  #next(): void {
    if (this.#isClosed) return;
    if (this.#broken !== undefined) {
      for (const task of this.#waiting.splice(0)) task.fail(this.#broken);
      return;
    }
    for (const member of this.#members) {
      if (member.isReady && member.task === undefined && this.#waiting.length > 0) {
        this.#give(member, this.#waiting.shift()!);
      }
    }
    const starting = [...this.#members].filter((one) => !one.isReady).length;
    const wanted = Math.min(
      this.#options.size - this.#members.size,
      this.#waiting.length - starting,
    );
    for (let i = 0; i < wanted; i++) this.#start();
  }

  #give(member: Member<Done>, task: Task<Done>): void {
    member.task = task;
    const { taskMs } = this.#options;
    member.timer = setTimeout(() => {
      this.#lose(member, new WorkerLost("time", `not done in ${taskMs / 1000} s`));
    }, taskMs);
    try {
      member.worker.postMessage(task.make());
    } catch (error) {
      this.#end(member)?.fail(error as Error);
    }
  }

  #start(): void {
    const { module, workerData, resourceLimits } = this.#options;
    const worker = new Worker(module, { workerData, ...(resourceLimits && { resourceLimits }) });
    const member: Member<Done> = { worker, isReady: false };
    this.#members.add(member);
    worker.on("message", (message: "ready" | Answer<Done>) => {
      if (!this.#members.has(member)) return;
      if (message === "ready") member.isReady = true;
      else {
        const task = this.#end(member);
        if (message.spent) this.#dismiss(member);
        task?.done(message.done);
      }
      this.#next();
    });
    worker.on("error", (error: NodeJS.ErrnoException) => {
      const reason = error.code === "ERR_WORKER_OUT_OF_MEMORY" ? "memory" : "crash";
      if (member.isReady) this.#lose(member, new WorkerLost(reason, error.message));
      else this.#failToStart(member, error);
    });
    worker.on("exit", (code) => {
      if (!this.#members.has(member)) return;
      const error = new WorkerLost("crash", `the worker ended by itself (${code})`);
      if (member.isReady) this.#lose(member, error);
      else this.#failToStart(member, error);
    });
  }

  #end(member: Member<Done>): Task<Done> | undefined {
    clearTimeout(member.timer);
    const { task } = member;
    member.task = undefined;
    return task;
  }

  #dismiss(member: Member<Done>): void {
    this.#members.delete(member);
    void member.worker.terminate();
  }

  #lose(member: Member<Done>, error: WorkerLost): void {
    if (!this.#members.has(member)) return;
    const task = this.#end(member);
    this.#dismiss(member);
    task?.fail(error);
    this.#next();
  }

  /** A worker that does not even start would not start the next time: nothing is begun over and over. */
  #failToStart(member: Member<Done>, error: Error): void {
    this.#dismiss(member);
    this.#broken ??= new Error(`A worker thread does not start: ${error.message}`);
    this.#next();
  }
}
