/** The worker's work: one message after the other, of replans only the newest. */
import { planFiles } from "../../export/plan-files.ts";
import type { Outcome } from "../../model/finding.ts";
import type { PartsChoice } from "../../model/plan.ts";
import { parseJsonText } from "../../sitefile/json-text.ts";
import type { SiteFile } from "../../sitefile/site-file.ts";
import { pageModel } from "../model/build-model.ts";
import { imported, inspected } from "./imported.ts";
import type { FromWorker, ToWorker } from "./messages.ts";
import { PlanningSession, type Replanned } from "./session.ts";
import { unpackSource } from "./source.ts";

type Job = Exclude<ToWorker, { type: "open" }> | { readonly type: "first"; readonly id: 0 };

type Planning = Exclude<Job, { type: "inspect" | "import" }>;

/**
 * Answers messages one by one.
 *
 * @param say takes the answers
 * @param turn waits until messages that have come meanwhile are delivered; planning itself hears nothing
 */
export function workerLoop(
  say: (message: FromWorker) => void,
  turn: () => Promise<void>,
): (message: ToWorker) => void {
  let session: PlanningSession | undefined;
  let jobs: Job[] = [];
  let isBusy = false;

  return (message) => {
    if (message.type === "open") {
      session = new PlanningSession(unpackSource(message.source));
      jobs.push({ type: "first", id: 0 });
    } else {
      if (message.type === "replan") drop((one) => one.type === "replan");
      jobs.push(message);
    }
    if (!isBusy) void work();
  };

  function drop(isNeedless: (job: Job) => boolean): void {
    for (const job of jobs.filter(isNeedless)) say({ type: "dropped", id: job.id });
    jobs = jobs.filter((job) => !isNeedless(job));
  }

  async function work(): Promise<void> {
    isBusy = true;
    await turn();
    for (let job = jobs.shift(); job; job = jobs.shift()) {
      say({ type: "begun", id: job.id });
      try {
        say(await answer(job));
      } catch (error) {
        say({ type: "fault", id: job.id, message: (error as Error).message });
      }
      await turn();
    }
    isBusy = false;
  }

  async function answer(job: Job): Promise<FromWorker> {
    if (job.type === "inspect") return inspected(job);
    if (job.type === "import") return imported(job);
    if (!session) throw new Error("nothing was opened");
    const edits = job.type === "first" ? [] : job.edits;
    return answerOf(job, await session.plan(edits));
  }
}

function answerOf(job: Planning, outcome: Outcome<Replanned>): FromWorker {
  const { id } = job;
  if (!outcome.ok) return { type: "problem", id, problem: outcome.problem };
  const { result, handOver, siteFile } = outcome.value;
  if (job.type !== "files") {
    return {
      type: "planned",
      id,
      model: pageModel(result, handOver),
      siteFile,
      parts: partsIn(siteFile),
    };
  }
  const written = planFiles(result);
  const files = written.files.flatMap((file) => ("text" in file ? [file] : []));
  return { type: "files", id, model: pageModel(written.result, handOver), siteFile, files };
}

function partsIn(siteFile: string): PartsChoice | undefined {
  const json = parseJsonText(siteFile);
  return Array.isArray(json) ? undefined : (json.value as SiteFile).parts;
}
