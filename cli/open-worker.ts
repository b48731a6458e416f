/** Thread of `pegline open`: reads and plans, so that the command itself is never held up. */
import { parentPort } from "node:worker_threads";
import { writtenFinding } from "../src/export/ordered-findings.ts";
import { filesOfJob } from "./open/files-of-job.ts";
import { openPlans } from "./open/open-plans.ts";
import type { Opened, OpenTask } from "./open/open-task.ts";
import { pageOfInputs } from "./open/page-of-inputs.ts";
import { stateOf } from "./open/watch-files.ts";
import { problemOf } from "./problem-of.ts";
import { siteJob } from "./site-job.ts";

const port = parentPort!;

port.on("message", async (task: OpenTask) => {
  const opened = await open(task);
  port.postMessage({ done: opened, spent: !opened.ok && opened.isFault });
});
port.postMessage("ready");

/** Files of all that was opened so far: where one cannot be read, any of them may mend it. */
let known: readonly string[] = [];

async function open(task: OpenTask): Promise<Opened> {
  const named = task.of === "plans" ? task.paths : [...task.args, task.given.site ?? []].flat();
  known = [...new Set([...known, ...named])];
  let files = known;
  let state = await stateOf(files);
  try {
    if (task.of === "plans") {
      const data = await openPlans(task.paths);
      return { ok: true, files, state, data, findings: [] };
    }
    const job = await siteJob(task.args, task.given);
    files = filesOfJob(job);
    known = files;
    state = await stateOf(files);
    const { data, findings } = await pageOfInputs(job, task.given);
    return { ok: true, files, state, data, findings: findings.map((one) => writtenFinding(one)) };
  } catch (error) {
    return { ok: false, files, state, ...problemOf(error) };
  }
}
