import { jsonText } from "../../src/escape/json.ts";
import { terminalName } from "../../src/escape/terminal.ts";
import { asLaidGeojson, asLaidResult } from "../../src/export/as-laid-result.ts";
import { asLaidText } from "../../src/export/as-laid-text.ts";
import { DEFAULT_NOISE_M } from "../../src/handover/as-laid/as-laid.ts";
import { compareInputs } from "../../src/jobs/compare.ts";
import { chooseProfile } from "../choose-profile.ts";
import { epsgRegistry } from "../epsg-registry.ts";
import { EXIT, exitOf } from "../exit-codes.ts";
import { openInputs } from "../open-inputs.ts";
import { planFileOf } from "../plan-file.ts";
import { misuse, Refusal } from "../refusal.ts";
import { codeOfError } from "../results/file-ops.ts";
import { writeFileWhole } from "../results/write-file.ts";
import { stoppable } from "../signals.ts";
import { type SiteOptions, siteJob } from "../site-job.ts";
import { Terminal } from "../terminal.ts";

export interface CompareOptions extends SiteOptions {
  readonly noise?: number;
  readonly align?: boolean;
  readonly force?: boolean;
}

/** `pegline compare PLAN TRACK [INPUT…]`: the wire as laid against the plan, and the record of it. */
export async function compareCommand(
  args: readonly string[],
  given: CompareOptions,
): Promise<number> {
  const { noise = DEFAULT_NOISE_M, align = false, force = false, out, ...options } = given;
  const [plan, track, ...rest] = args;
  if (plan === undefined || track === undefined) {
    throw misuse(
      "INPUT_MISSING",
      "A plan and a track are needed.",
      "Name the plan, then what was measured: `pegline compare garden/plan.geojson walked.gpx`.",
    );
  }
  const job = rest.length > 0 || options.site ? await siteJob(rest, options) : undefined;
  const terminal = new Terminal(job?.common ?? options);
  const chosen = await chooseProfile(job?.profile ?? options.profile, job?.siteFile);
  terminal.progress("Reading");
  const [planFile] = await openInputs([await planFileOf(plan)]);
  const tracks = await openInputs([track]);
  const inputs = job ? await openInputs(job.paths) : [];
  const outcome = await compareInputs(planFile!, tracks, inputs, {
    ...(job?.options ?? { crs: options.crs }),
    profile: chosen.profile,
    registry: epsgRegistry,
    noiseM: noise,
    align,
  });
  if (!outcome.ok) throw new Refusal(outcome.problem);
  const findings = [...(job?.findings ?? []), ...chosen.findings, ...outcome.findings];
  const made = { ...outcome.value, findings };
  if (out !== undefined) await stoppable(() => record(out, asLaidGeojson(made), force));
  const result = asLaidResult(made);
  terminal.result(result, () => asLaidText(made));
  terminal.findings(result.findings);
  if (out !== undefined) terminal.note(`As-laid record in ${terminalName(out)}`);
  return result.verdict === "broken" ? EXIT.errorStands : exitOf(result.findings);
}

async function record(out: string, geojson: unknown, replace: boolean): Promise<void> {
  try {
    if (await writeFileWhole(out, `${jsonText(geojson)}\n`, { replace })) return;
  } catch (error) {
    const code = codeOfError(error);
    if (code === undefined) throw error;
    throw misuse(
      "RECORD_NOT_WRITABLE",
      `The record cannot be written (${code}).`,
      "Name a file in a folder that you may write to.",
      out,
    );
  }
  throw misuse(
    "RECORD_FILE_EXISTS",
    "There is a file of that name already: nothing was written.",
    "Choose another name with --out, or replace it with --force.",
    out,
  );
}
