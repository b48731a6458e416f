import { availableParallelism, totalmem } from "node:os";
import { faultyRecord } from "../../src/batch/faulty-record.ts";
import { type Plot, postedPlot } from "../../src/batch/plot.ts";
import type { PlotRecord } from "../../src/batch/plot-text.ts";
import type { PlotSetting, PlotTask } from "./plot-task.ts";
import type { StreamPlot } from "./stream-plots.ts";
import { WorkerLost, WorkerPool } from "./worker-pool.ts";

/** Share of the machine's memory that all workers together may take for what they hold. */
const MEMORY_SHARE = 0.75;
/** Of one worker, megabytes. */
const [WORKER_MB_LEAST, WORKER_MB_MOST] = [512, 4096];

/** Longer ones overflow in Node's timers. */
const TIMER_MS_MOST = 2 ** 31 - 1;

/** Workers if nothing is said: one for each core that this process may use. */
export const defaultJobs = () => availableParallelism();

/** Plans plots on worker threads. Whatever happens to one, it gives a record. */
export class PlotPlanner {
  readonly #pool: WorkerPool<PlotRecord>;
  readonly #setting: PlotSetting;

  constructor(setting: PlotSetting, jobs: number, plotSeconds: number) {
    this.#setting = setting;
    const shareMb = (MEMORY_SHARE * totalmem()) / 2 ** 20 / jobs;
    this.#pool = new WorkerPool({
      // Both as source and bundled, this module lies in a folder beside the worker.
      module: new URL("../batch-worker.js", import.meta.url),
      size: jobs,
      workerData: setting,
      taskMs: Math.min(plotSeconds * 1000, TIMER_MS_MOST),
      resourceLimits: {
        maxOldGenerationSizeMb: Math.max(WORKER_MB_LEAST, Math.min(WORKER_MB_MOST, shareMb)),
      },
    });
  }

  async plan(plot: Plot | StreamPlot): Promise<PlotRecord> {
    const { form } = this.#setting;
    if ("isAgain" in plot && plot.isAgain) {
      const message = `${plot.name} comes back after other plots: it was planned without what follows here.`;
      return faultyRecord(plot, form, message, "PLOT_AGAIN");
    }
    try {
      return await this.#pool.run((): PlotTask => {
        return "file" in plot ? { file: plot } : { posted: postedPlot(plot) };
      });
    } catch (error) {
      if (!(error instanceof WorkerLost)) throw error;
      return faultyRecord(plot, form, MESSAGES[error.reason](error.message), CODES[error.reason]);
    }
  }

  close(): Promise<void> {
    return this.#pool.close();
  }
}

const CODES = { time: "PLOT_TOO_LONG", memory: "PLOT_TOO_LARGE", crash: "INTERNAL_FAULT" } as const;

const MESSAGES = {
  time: (what: string) => `The plot was given up: ${what}.`,
  memory: () => "The plot took more memory than a worker may have.",
  crash: (what: string) => `A fault of pegline, not of the input: ${what}`,
} as const;
