import { createHash } from "node:crypto";
import { jsonText } from "../../src/escape/json.ts";
import type { Problem } from "../../src/model/finding.ts";
import type { PageAssets } from "../../src/page/html/page-html.ts";
import type { PageData } from "../../src/page/model/page-data.ts";
import { TOOL, VERSION } from "../../src/version.ts";
import { WorkerLost, WorkerPool } from "../batch/worker-pool.ts";
import { pagePathOf } from "../open/open-plans.ts";
import type { Opened, OpenTask } from "../open/open-task.ts";
import { PageServer, type Shown } from "../open/page-server.ts";
import { openInBrowser } from "../open/system-opener.ts";
import { watchFiles } from "../open/watch-files.ts";
import { pageAssets } from "../page-assets.ts";
import type { PlanCommandOptions } from "../plan-job.ts";
import { misuse, Refusal } from "../refusal.ts";
import { reportFailure } from "../report-failure.ts";
import { untilStopped } from "../signals.ts";
import { Terminal } from "../terminal.ts";

export interface OpenOptions extends PlanCommandOptions {
  readonly port?: number;
  readonly browser?: boolean;
}

/** Longest time for one planning, milliseconds. */
const PLAN_MS = 1_800_000;

/**
 * `pegline open PLAN|INPUT…`: serves the page of a plan on the loopback address until it is stopped,
 * and keeps it true to the files on disk.
 */
export async function openCommand(args: readonly string[], given: OpenOptions): Promise<number> {
  const { port = 0, browser = false, ...options } = given;
  const terminal = new Terminal(given);
  const task = await taskOf(args, options);
  const planner = new WorkerPool<Opened>({
    module: new URL("../open-worker.js", import.meta.url),
    size: 1,
    workerData: undefined,
    taskMs: PLAN_MS,
  });
  let last: Opened | undefined;
  const run = async () => {
    last = await planner.run(() => task).catch((error) => lost(error, last));
    return last;
  };
  let server: PageServer | undefined;
  let end = () => {};
  try {
    terminal.progress(task.of === "plans" ? "Reading" : "Planning");
    const [first, assets] = await Promise.all([run(), pageAssets()]);
    if (!first.ok) throw first.isFault ? new Error(first.problem.message) : refusalOf(first);
    const { pageHtml, policyOf } = await import("../../src/page/html/page-html.ts");
    const { pageContent } = await import("../../src/page/html/plan-page.ts");
    const shownOf = (data: PageData) => shown(data, assets, { pageHtml, pageContent });
    server = await PageServer.listen(shownOf(first.data), policyOf(assets, "served"), port);
    end = keepTrue(first, run, server, shownOf, terminal);
    say(server, task, first, terminal);
    if (browser) await startBrowser(server.address);
    return await untilStopped(() => {});
  } finally {
    end();
    await Promise.all([planner.close(), server?.close()]);
  }
}

/** Arguments are all plans, at most two, or all of a site. */
async function taskOf(args: readonly string[], given: PlanCommandOptions): Promise<OpenTask> {
  const pages = await Promise.all(args.map(pagePathOf));
  const paths = pages.filter((path) => path !== undefined);
  if (paths.length === 0) return { of: "inputs", args, given };
  if (paths.length < args.length || paths.length > 2) {
    throw misuse(
      "OPEN_MIXED",
      paths.length > 2
        ? `${paths.length} plans are named; at most two can be seen together.`
        : "Plans and other files are named together.",
      "Name one plan, two to compare, or the files of one site.",
    );
  }
  const idle = Object.keys(given).filter((name) => !["json", "quiet", "split"].includes(name));
  if (idle.length > 0 || given.split === false) {
    throw misuse(
      "OPEN_OPTION_IDLE",
      `A finished plan is shown as it is: --${given.split === false ? "no-split" : idle[0]} has no say in it.`,
      "Leave the option out, or name the files of the site to have it planned.",
    );
  }
  return { of: "plans", paths };
}

/** Plans again as often as files change; what comes while it is at it is done after it. */
function keepTrue(
  first: Opened,
  run: () => Promise<Opened>,
  server: PageServer,
  shownOf: (data: PageData) => Shown,
  terminal: Terminal,
): () => void {
  let isBusy = false;
  let isStale = false;
  const renew = async () => {
    isStale = true;
    if (isBusy) return;
    isBusy = true;
    while (isStale) {
      isStale = false;
      const opened = await run();
      watch.watch(opened.files, opened.state);
      if (opened.ok) {
        server.show(shownOf(opened.data));
        terminal.note("Files have changed: shown anew.");
        terminal.findings(opened.findings.filter(({ severity }) => severity === "error"));
      } else {
        server.hinder(troubleOf(opened.problem));
        reportFailure(refusalOf(opened), false);
      }
    }
    isBusy = false;
  };
  const watch = watchFiles(() => void renew());
  watch.watch(first.files, first.state);
  return () => watch.end();
}

function shown(
  data: PageData,
  assets: PageAssets,
  make: {
    pageHtml: typeof import("../../src/page/html/page-html.ts").pageHtml;
    pageContent: typeof import("../../src/page/html/plan-page.ts").pageContent;
  },
): Shown {
  const version = createHash("sha256").update(jsonText(data)).digest("base64url");
  return {
    version,
    plan: data,
    html: () => make.pageHtml(assets, make.pageContent({ ...data, live: { version } }), "served"),
  };
}

/** As the page shows it. */
function troubleOf({ code, message, remedy, file, layer, feature, line }: Problem) {
  const place = file !== undefined && line !== undefined ? `${file}:${line}` : file;
  const where = [place, layer, feature].filter((one) => one !== undefined && one !== "");
  return { code, message, remedy, where: where.join(" · ") };
}

function say(server: PageServer, task: OpenTask, first: Opened & { ok: true }, terminal: Terminal) {
  const { address, port } = server;
  const { findings, files } = first;
  terminal.result(
    { tool: TOOL, version: VERSION, address, port, shows: task.of, files, findings },
    () => [`${address}`, "Ctrl-C ends it.", ""].join("\n"),
  );
  terminal.findings(findings);
}

async function startBrowser(address: string): Promise<void> {
  const fault = await openInBrowser(address);
  if (fault === undefined) return;
  reportFailure(
    misuse(
      "BROWSER_NOT_STARTED",
      `No browser could be started (${fault}).`,
      `Open ${address} in a browser yourself; it is served all the same.`,
    ),
    false,
  );
}

const refusalOf = ({ problem }: Opened & { ok: false }) => new Refusal(problem);

/** The same files are watched on. */
function lost(error: unknown, last: Opened | undefined): Opened {
  if (!(error instanceof WorkerLost)) throw error;
  const { files = [], state = "" } = last ?? {};
  const problem: Problem = {
    code: "OPEN_PLANNER_LOST",
    kind: "input",
    message: `The planner gave up: ${error.message}.`,
    remedy: "Look at what was changed last; a smaller site may do.",
  };
  return { ok: false, files, state, problem, isFault: false };
}
