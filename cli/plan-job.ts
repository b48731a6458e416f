import { relative } from "node:path";
import { keptRegistry } from "../src/crs/kept-register.ts";
import { terminalName } from "../src/escape/terminal.ts";
import type { FormatName } from "../src/export/exchange/formats.ts";
import { type OutCrs, SITE_GRID } from "../src/export/exchange/out-crs.ts";
import { writtenFinding } from "../src/export/ordered-findings.ts";
import { PAGE_FILE_NAME } from "../src/export/page-name.ts";
import { planFiles, type ResultFile } from "../src/export/plan-files.ts";
import type { PlanResult } from "../src/export/plan-result.ts";
import type { SheetFiles } from "../src/export/sheet-files.ts";
import { summaryText } from "../src/export/summary-text.ts";
import type { PlanOptions } from "../src/jobs/pegline.ts";
import type { PictureInput } from "../src/jobs/picture-beneath.ts";
import type { InputFile } from "../src/model/features.ts";
import type { Finding, Outcome } from "../src/model/finding.ts";
import type { Profile } from "../src/model/profile.ts";
import type { PageExtras } from "../src/page/html/plan-page.ts";
import type { PageSystem } from "../src/page/model/in-system.ts";
import type { PagePicture } from "../src/page/model/page-data.ts";
import type { PackedSource } from "../src/page/worker/source.ts";
import { chooseProfile } from "./choose-profile.ts";
import { epsgRegistry } from "./epsg-registry.ts";
import { exitOf } from "./exit-codes.ts";
import { openImage, openInputs, openTerrain } from "./open-inputs.ts";
import { pageAssets } from "./page-assets.ts";
import { PAGE_SHOWS_ONLY, pageSource } from "./page-source.ts";
import { misuse, Refusal } from "./refusal.ts";
import { claimFolder } from "./results/claim-folder.ts";
import { defaultFolder } from "./results/default-folder.ts";
import { writeFolder } from "./results/write-folder.ts";
import { stoppable } from "./signals.ts";
import { type SiteJob, type SiteOptions, siteJob } from "./site-job.ts";
import { Terminal } from "./terminal.ts";

/** What may be said to commands that plan. */
export interface PlanCommandOptions extends SiteOptions {
  readonly signal?: boolean;
  readonly coverage?: boolean;
  readonly format?: readonly FormatName[];
  readonly outCrs?: OutCrs;
}

/** A plan, and what else there is to write and to say of it. */
export interface Made {
  readonly result: PlanResult;
  readonly files: readonly ResultFile[];
  readonly findings: readonly Finding[];
  /** Said before the summary. */
  readonly text: string;
  /** Printed with the summary with `--json`. */
  readonly json: Readonly<Record<string, unknown>>;
  /** Planned from the site alone, as a page can do again. */
  readonly isFresh?: boolean;
}

/** How a plan comes from the files of its site. */
export type MakePlan = (
  inputs: readonly InputFile[],
  options: PlanOptions,
) => Promise<Outcome<Made>>;

/** What a plan is made with: the same for each command that plans a site. */
export function planOptions(
  job: SiteJob,
  { signal, coverage }: PlanCommandOptions,
  profile: Profile | undefined,
  opened: Pick<PlanOptions, "terrain" | "registry">,
): PlanOptions {
  return { ...job.options, profile, signal, coverage, ...opened };
}

/**
 * Reads, plans, writes a folder of results whole, says what came out.
 *
 * @param also further files that the results must not be put in the place of
 */
export async function planJob(
  args: readonly string[],
  given: PlanCommandOptions,
  make: MakePlan,
  also: readonly string[] = [],
): Promise<number> {
  refuseIdleOutCrs(given);
  const job = await siteJob(args, given);
  const terminal = new Terminal(job.common);
  const chosen = await chooseProfile(job.profile, job.siteFile);
  terminal.progress("Reading");
  const { inputs, terrain, image } = await openJobFiles(job);
  const claim = await claimFolder(job.out ?? defaultFolder(job.paths[0]!), [
    ...job.paths,
    ...also,
    ...(job.terrain === undefined ? [] : [job.terrain.file]),
    ...(job.image === undefined ? [] : [job.image.file]),
    ...(job.siteFile === undefined ? [] : [job.siteFile]),
  ]);
  terminal.progress("Planning");
  const { registry, records } = keptRegistry(epsgRegistry);
  const outcome = await make(inputs, {
    ...planOptions(job, given, chosen.profile, { terrain, registry }),
    onProgress: ({ share }) => terminal.progress(`Reading ${Math.round(100 * share)} %`),
  });
  if (!outcome.ok) throw new Refusal(outcome.problem);
  const made = outcome.value;
  const { findings: noticed } = made.result;
  const findings = [...job.findings, ...chosen.findings, ...noticed, ...made.findings];
  const drawn = await drawings({ ...made.result, findings }, job, image);
  // Loaded while nobody waits for it: not with the command.
  const { handOverFiles } = await import("../src/export/hand-over/hand-over-files.ts");
  const handOver = await handOverFiles({ ...made.result, findings }, job.handOver);
  const result = { ...made.result, findings };
  const read = { inputs, terrain: terrain?.file, records: records() };
  const source = made.isFresh ? await pageSource(job, read, given) : undefined;
  const isShownOnly = made.isFresh && source === undefined;
  const besides = [
    ...drawn.findings,
    ...handOver.findings,
    ...(isShownOnly ? [PAGE_SHOWS_ONLY] : []),
  ];
  const { files: written, summary, result: finished } = await filesIn(result, given, besides);
  const page = await pageFile(finished, job, { image, source, outCrs: given.outCrs });
  const files = [...written, page, ...made.files, ...handOver.files, ...drawn.files];
  terminal.progress("Writing");
  const notes = await stoppable((checkStop) => writeFolder(claim, files, checkStop));
  terminal.result({ ...summary, ...made.json }, () => `${made.text}${summaryText(summary)}\n`);
  terminal.findings([...summary.findings, ...notes.map((one) => writtenFinding(one))]);
  const shown = terminalName(relative(process.cwd(), claim.path) || ".");
  terminal.note(`Results in ${shown}: ${files.map((file) => file.name).join(", ")}`);
  return exitOf(summary.findings);
}

/** Reads all files that a job names, but its site file and its profile. */
export async function openJobFiles(job: SiteJob): Promise<{
  readonly inputs: readonly InputFile[];
  readonly terrain: PlanOptions["terrain"];
  readonly image: PictureInput | undefined;
}> {
  const inputs = await openInputs(job.paths);
  const { file: raster, ...said } = job.terrain ?? {};
  const { file: picture, ...saidOfIt } = job.image ?? {};
  return {
    inputs,
    terrain: raster === undefined ? undefined : { file: await openTerrain(raster), ...said },
    image: picture === undefined ? undefined : { file: await openImage(picture), ...saidOfIt },
  };
}

/** The drawings, where they are wanted; the code for them is loaded only then. */
async function drawings(
  result: PlanResult,
  { sheet, options, handOver }: SiteJob,
  image: PictureInput | undefined,
): Promise<SheetFiles> {
  if (sheet === undefined) return { files: [], findings: [] };
  const { sheetFiles } = await import("../src/export/sheet-files.ts");
  if (image === undefined) return sheetFiles(result, sheet, { handOver });
  const { pictureBeneath } = await import("../src/jobs/picture-beneath.ts");
  const { site, plan } = result;
  const picture = await pictureBeneath(image, site, plan, options.crs, epsgRegistry);
  if (!picture.ok) throw new Refusal(picture.problem);
  const drawn = await sheetFiles(result, sheet, { picture: picture.value, handOver });
  return { ...drawn, findings: [...picture.findings, ...drawn.findings] };
}

/** What a page is given beside the plan. */
interface PageInput {
  readonly image: PictureInput | undefined;
  /** What it may plan again from. */
  readonly source: PackedSource | undefined;
  readonly outCrs: OutCrs | undefined;
}

/** The page, in which the plan is seen and walked; its code is loaded while nobody waits for it. */
async function pageFile(result: PlanResult, job: SiteJob, input: PageInput): Promise<ResultFile> {
  const { planPage } = await import("../src/page/html/plan-page.ts");
  const extras = await pageExtras(result, job, input);
  const text = planPage(result, job.handOver, await pageAssets(), extras);
  return { name: PAGE_FILE_NAME, text };
}

/** What a page holds beside the plan. */
export async function pageExtras(
  result: PlanResult,
  { options }: SiteJob,
  { image, source, outCrs }: PageInput,
): Promise<PageExtras> {
  const picture = image && (await pagePicture(image, result, options.crs));
  const system = await systemFor(result, outCrs ?? options.crs);
  return {
    ...(picture && { picture }),
    ...(system && { system }),
    ...(source && { job: source }),
  };
}

/** The system that was named for inputs or outputs: the page shows places in it, too. */
async function systemFor(
  result: PlanResult,
  crs: OutCrs | undefined,
): Promise<PageSystem | undefined> {
  if (crs === undefined || crs === SITE_GRID) return undefined;
  const { pageSystem } = await import("../src/page/model/page-system.ts");
  return pageSystem(result, crs, epsgRegistry);
}

/** The picture for the page: coarser than for drawings. What was said of it there is not said again. */
async function pagePicture(
  image: PictureInput,
  { site, plan }: PlanResult,
  crs: number | string | undefined,
): Promise<PagePicture> {
  const { PAGE_SIDE_MAX, pictureBeneath } = await import("../src/jobs/picture-beneath.ts");
  const { pagePictureOf } = await import("../src/page/html/page-picture.ts");
  const placed = await pictureBeneath(image, site, plan, crs, epsgRegistry, PAGE_SIDE_MAX);
  if (!placed.ok) throw new Refusal(placed.problem);
  return pagePictureOf(placed.value);
}

/** Said before anything is planned: `plan.geojson` is in WGS 84 always. */
function refuseIdleOutCrs({ format, outCrs }: PlanCommandOptions): void {
  if (outCrs === undefined || format !== undefined) return;
  throw misuse(
    "OUT_CRS_WITHOUT_FORMAT",
    "--out-crs is given, but no --format: plan.geojson is in WGS 84 by its own rule.",
    "Add the formats that are to be in that system, like --format gpkg,dxf.",
  );
}

/** The files of a plan; the code for other formats is loaded only where one is wanted. */
async function filesIn(
  result: PlanResult,
  { format, outCrs }: PlanCommandOptions,
  also: readonly Finding[],
) {
  if (format === undefined) return planFiles(result, also);
  const { resultFiles } = await import("../src/export/result-files.ts");
  const options = { formats: format, outCrs, registry: epsgRegistry };
  const outcome = await resultFiles(result, options, also);
  if (!outcome.ok) throw new Refusal(outcome.problem);
  return outcome.value;
}
