import { relative } from "node:path";
import type { Plots } from "../../src/batch/plot.ts";
import { jsonText } from "../../src/escape/json.ts";
import { terminalName } from "../../src/escape/terminal.ts";
import { writtenFinding } from "../../src/export/ordered-findings.ts";
import { readInputs } from "../../src/import/read-inputs.ts";
import { type Division, dividePlots } from "../../src/jobs/divide-plots.ts";
import { readOptions } from "../../src/jobs/pegline.ts";
import type { InputFile } from "../../src/model/features.ts";
import type { Finding } from "../../src/model/finding.ts";
import { BATCH_FILES, BATCH_RESULT } from "../batch/batch-result.ts";
import { batchSummary, batchText } from "../batch/batch-summary.ts";
import { jobHash } from "../batch/job-hash.ts";
import { defaultJobs, PlotPlanner } from "../batch/plot-planner.ts";
import type { PlotSetting } from "../batch/plot-task.ts";
import { Progress } from "../batch/progress.ts";
import { runPlots } from "../batch/run-plots.ts";
import { streamPlots } from "../batch/stream-plots.ts";
import { StreamSink } from "../batch/stream-sink.ts";
import type { Totals } from "../batch/totals.ts";
import { removeWhole, Unfinished } from "../batch/unfinished.ts";
import { chooseProfile } from "../choose-profile.ts";
import { epsgRegistry } from "../epsg-registry.ts";
import { EXIT } from "../exit-codes.ts";
import { openInputs, openTerrain } from "../open-inputs.ts";
import { misuse, Refusal } from "../refusal.ts";
import { claimFolder } from "../results/claim-folder.ts";
import { defaultFolder } from "../results/default-folder.ts";
import { codeOfError, FILE_OPS } from "../results/file-ops.ts";
import { writeFolder } from "../results/write-folder.ts";
import { Stopped, stoppable } from "../signals.ts";
import { type SiteJob, type SiteOptions, siteJob } from "../site-job.ts";
import { Terminal } from "../terminal.ts";

/** What may be said to `pegline batch` alone. */
export interface BatchCommandOptions extends SiteOptions {
  readonly by?: string;
  readonly eachLawn?: boolean;
  readonly jobs?: number;
  readonly plotSeconds?: number;
  readonly restart?: boolean;
}

/** Stands for a standard stream. */
const STREAM = "-";

/** Longest time for one plot where nothing is said, seconds. */
const PLOT_SECONDS = 1800;

/** All that is settled before any plot is planned. */
interface Batch {
  readonly job: SiteJob;
  readonly given: BatchCommandOptions;
  readonly terminal: Terminal;
  readonly profile: string;
  readonly options: PlotSetting["options"];
  readonly jobs: number;
  readonly findings: readonly Finding[];
}

/** `pegline batch INPUT… --by FIELD|--each-lawn`, or `pegline batch -`: plans every plot. */
export async function batchCommand(
  args: readonly string[],
  given: BatchCommandOptions,
): Promise<number> {
  const job = await siteJob(args, given);
  const isStream = job.paths.includes(STREAM);
  refuseMisfits(job, given, isStream);
  const chosen = await chooseProfile(job.profile, job.siteFile);
  const { file: raster, ...said } = job.terrain ?? {};
  const terrain = raster === undefined ? undefined : { file: await openTerrain(raster), ...said };
  const batch: Batch = {
    job,
    given,
    terminal: new Terminal(job.common),
    profile: chosen.profile.name,
    options: { ...withoutName(job.options), profile: chosen.profile, terrain },
    jobs: given.jobs ?? defaultJobs(),
    findings: [
      ...job.findings,
      ...chosen.findings,
      ...(job.sheet === undefined ? [] : [WITHOUT_SHEETS]),
      ...(isDrawnOn(job) ? [WITHOUT_DRAWN] : []),
    ],
  };
  return isStream ? batchOfStream(batch) : batchOfFiles(batch);
}

/** What is said of single features and drawn beside them belongs to one site, not to each plot. */
const withoutName = ({ name: _, rules, ...options }: SiteJob["options"]) => ({
  ...options,
  rules: { ...rules, features: undefined, things: undefined },
});

const isDrawnOn = ({ options: { rules } }: SiteJob) =>
  (rules.features?.length ?? 0) + (rules.things?.length ?? 0) > 0;

async function batchOfStream(batch: Batch): Promise<number> {
  const { given, terminal, findings } = batch;
  const plots = streamPlots(process.stdin, given.by);
  const totals = await toStream(batch, plots);
  terminal.findings(findings.map((one) => writtenFinding(one)));
  return exitOf(totals, findings);
}

async function batchOfFiles(batch: Batch): Promise<number> {
  const { job, given, terminal } = batch;
  terminal.progress("Reading");
  const inputs = await openInputs(job.paths);
  const outFolder = job.out ?? `${defaultFolder(job.paths[0]!)}-batch`;
  const claim =
    job.out === STREAM
      ? undefined
      : await claimFolder(outFolder, inputPaths(batch), FILE_OPS, BATCH_RESULT);
  const { plots, noticed } = await divided(batch, inputs);
  const findings = [...batch.findings, ...noticed];
  if (claim === undefined) {
    const totals = await toStream(batch, each(plots), plots.count);
    terminal.findings(findings.map((one) => writtenFinding(one)));
    return exitOf(totals, findings);
  }
  const place = `${claim.path}.unfinished`;
  const hash = jobHash(inputs, { division: divisionOf(given), options: batch.options });
  const sink = await untilWritable(place, Unfinished.open(place, hash, given.restart === true));
  if (sink.resumed > 0) findings.push(resumed(sink.resumed, plots.count, place));
  try {
    await planned(batch, each(plots), sink, "lines", plots.count);
    await untilWritable(place, sink.finish());
  } catch (error) {
    await sink.close().catch(() => {});
    if (error instanceof Stopped) terminal.findings([writtenFinding(stopped(place))]);
    throw codeOfError(error) === undefined ? error : notWritable(place, error);
  }
  const written = findings.map((one) => writtenFinding(one));
  const about = { inputs: job.paths, profile: batch.profile, findings: written };
  const summary = batchSummary(about, divisionOf(given), sink.totals);
  const notes = await stoppable((checkStop) =>
    writeFolder(
      claim,
      [
        { name: BATCH_FILES.plans, ready: `${place}/${BATCH_FILES.plans}` },
        { name: BATCH_FILES.table, ready: `${place}/${BATCH_FILES.table}` },
        { name: BATCH_FILES.summary, text: `${jsonText(summary, 2)}\n` },
      ],
      checkStop,
    ),
  );
  await removeWhole(place);
  terminal.result(summary, () => batchText(summary));
  terminal.findings([...written, ...notes.map((one) => writtenFinding(one))]);
  const shown = terminalName(relative(process.cwd(), claim.path) || ".");
  terminal.note(`Results in ${shown}: ${BATCH_RESULT.names.join(", ")}`);
  return exitOf(summary, findings);
}

/** Reads the inputs and divides them. Their bytes are let go of afterwards. */
async function divided(
  { given, options }: Batch,
  inputs: readonly InputFile[],
): Promise<{ plots: Plots; noticed: Finding[] }> {
  const read = await readInputs(inputs, readOptions(options));
  if (!read.ok) throw new Refusal(read.problem);
  const withRegistry = { ...options, registry: epsgRegistry };
  const plots = await dividePlots(read.value, divisionOf(given), withRegistry);
  if (!plots.ok) throw new Refusal(plots.problem);
  return { plots: plots.value, noticed: [...read.findings, ...plots.findings] };
}

function* each(plots: Plots) {
  for (let number = 1; number <= plots.count; number++) yield plots.plot(number);
}

/** Plans into standard output, as a GeoJSON text sequence. */
async function toStream(
  batch: Batch,
  plots: Parameters<typeof planned>[1],
  count?: number,
): Promise<Totals> {
  const sink = new StreamSink((text) => batch.terminal.data(text));
  try {
    await planned(batch, plots, sink, "sequence", count);
  } catch (error) {
    // Whoever reads has had enough: no fault of anyone. What else fails is told where streams are.
    if (codeOfError(error) !== "EPIPE") throw error;
  }
  return sink.totals;
}

type Sink = Unfinished | StreamSink;

async function planned(
  { options, jobs, given, terminal }: Batch,
  plots: Parameters<typeof runPlots<Parameters<PlotPlanner["plan"]>[0], never>>[0],
  sink: Sink,
  form: PlotSetting["form"],
  count?: number,
): Promise<void> {
  const planner = new PlotPlanner({ form, options }, jobs, given.plotSeconds ?? PLOT_SECONDS);
  const progress = new Progress(terminal, sink.totals.plots, count);
  try {
    await stoppable((checkStop) => {
      const look = () => {
        checkStop();
        progress.show(sink.totals.plots);
      };
      return runPlots(plots, (plot) => planner.plan(plot), sink, 2 * jobs, look);
    });
  } finally {
    await planner.close();
  }
}

function divisionOf({ by }: BatchCommandOptions): Division {
  return by === undefined ? "each-lawn" : { by };
}

function inputPaths({ job }: Batch): string[] {
  const rest = [job.terrain?.file, job.siteFile].filter((one) => one !== undefined);
  return [...job.paths, ...rest];
}

function exitOf(totals: Totals, findings: readonly Finding[]): number {
  const hasErrors = totals.failed + totals.with_errors > 0;
  const stands = hasErrors || findings.some((one) => one.severity === "error");
  return stands ? EXIT.errorStands : EXIT.fine;
}

function refuseMisfits(job: SiteJob, given: BatchCommandOptions, isStream: boolean): void {
  const divisions = (given.by === undefined ? 0 : 1) + (given.eachLawn ? 1 : 0);
  if (isStream && job.paths.length > 1) {
    throw misuse(
      "STREAM_NOT_ALONE",
      "Standard input (-) is named together with other inputs.",
      "Name either - or files.",
    );
  }
  if (isStream ? given.eachLawn : divisions !== 1) {
    throw misuse(
      "PLOT_DIVISION",
      isStream
        ? "--each-lawn is said of standard input, of which each text is a plot already."
        : "It must be said once what makes a plot.",
      isStream
        ? "Leave it out, or name the file as INPUT."
        : "Say --by FIELD (features with the same value) or --each-lawn.",
    );
  }
  const toStream = isStream || job.out === STREAM;
  if (isStream && job.out !== undefined && job.out !== STREAM) {
    throw misuse(
      "STREAM_TO_FOLDER",
      "--out names a folder, but plots from standard input go to standard output.",
      "Leave --out away and send the output to a file.",
    );
  }
  if (toStream && job.common.json) {
    throw misuse(
      "STREAM_WITH_JSON",
      "--json asks for the totals on standard output, where the plans go.",
      "Leave --json away: each text holds the row of its plot.",
    );
  }
}

async function untilWritable<T>(place: string, work: Promise<T>): Promise<T> {
  try {
    return await work;
  } catch (error) {
    throw codeOfError(error) === undefined ? error : notWritable(place, error);
  }
}

function notWritable(place: string, error: unknown): Refusal {
  return misuse(
    "BATCH_NOT_WRITABLE",
    `${place}, in which the batch grows, cannot be written (${codeOfError(error)}). What is done is kept there.`,
    "Free some room, or see to it that you may write there; the same command goes on.",
    place,
  );
}

function resumed(done: number, count: number, place: string): Finding {
  return {
    code: "BATCH_RESUMED",
    severity: "info",
    file: place,
    message: `${done} of ${count} plots were planned by an earlier run that did not end.`,
    remedy: "Nothing to do; --restart begins anew.",
  };
}

function stopped(place: string): Finding {
  return {
    code: "BATCH_STOPPED",
    severity: "warning",
    file: place,
    message: `Stopped before the end. The plots that are done are kept in ${place}.`,
    remedy: "Give the same command again to go on, or remove that folder.",
  };
}

const WITHOUT_DRAWN: Finding = {
  code: "BATCH_WITHOUT_DRAWN",
  severity: "warning",
  message:
    "The site file says something of single features, or draws things; a batch plans the inputs as they are.",
  remedy: "Change the inputs themselves, or plan that site with pegline plan.",
};

const WITHOUT_SHEETS: Finding = {
  code: "BATCH_WITHOUT_SHEETS",
  severity: "info",
  message: "The site file asks for drawings; a batch makes none.",
  remedy: "Draw single plots with pegline plan.",
};
