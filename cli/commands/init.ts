import { lstat } from "node:fs/promises";
import { dirname, isAbsolute, relative, resolve, sep } from "node:path";
import { terminalName } from "../../src/escape/terminal.ts";
import { writtenFinding } from "../../src/export/ordered-findings.ts";
import { type Inspection, inspectInputs } from "../../src/jobs/pegline.ts";
import type { LayerRoles } from "../../src/site/layer-roles.ts";
import { type Draft, siteFileText } from "../../src/sitefile/site-file-text.ts";
import { TOOL, VERSION } from "../../src/version.ts";
import { epsgRegistry } from "../epsg-registry.ts";
import { exitOf } from "../exit-codes.ts";
import { openInputs } from "../open-inputs.ts";
import { misuse, Refusal } from "../refusal.ts";
import { stemOfPath } from "../results/default-folder.ts";
import { codeOfError } from "../results/file-ops.ts";
import { writeFileWhole } from "../results/write-file.ts";
import { stoppable } from "../signals.ts";
import { type SiteOptions, siteJob } from "../site-job.ts";
import { Terminal } from "../terminal.ts";

export interface InitOptions extends Omit<SiteOptions, "site" | "lawn" | "profile"> {
  readonly force?: boolean;
}

/** `pegline init INPUT…`: a site file with comments, from what is in the files. */
export async function initCommand(args: readonly string[], given: InitOptions): Promise<number> {
  const { out = "pegline.json", force = false, ...options } = given;
  const job = await siteJob(args, options);
  if (job.siteFile !== undefined) {
    throw misuse(
      "INIT_FROM_SITE_FILE",
      "This is a site file already.",
      "Name the files of the site.",
      job.siteFile,
    );
  }
  if (!force) await refuseExisting(out);
  const terminal = new Terminal(job.common);
  terminal.progress("Reading");
  const inputs = await openInputs(job.paths);
  const outcome = await inspectInputs(inputs, { ...job.options, registry: epsgRegistry });
  if (!outcome.ok) throw new Refusal(outcome.problem);
  const draft = draftOf(outcome.value, stemOfPath(job.paths[0]!), out, given.crs);
  await stoppable(() => write(out, siteFileText(draft), force));
  const findings = outcome.value.findings.map((one) => writtenFinding(one, outcome.value.grid));
  const json = {
    tool: TOOL,
    version: VERSION,
    file: out,
    inputs: draft.inputs.map((one) => one.file),
    layers: draft.inputs.reduce((sum, one) => sum + one.layers.length, 0),
    findings,
  };
  terminal.result(json, () => {
    const shown = terminalName(out);
    return `Wrote ${shown}: edit it, then \`pegline plan ${shown}\`.\n`;
  });
  terminal.findings(findings);
  return exitOf(findings);
}

function draftOf(found: Inspection, name: string, out: string, crs: number | undefined): Draft {
  const rolesOf = new Map(
    found.layerRoles.map((one) => [`${one.file}\n${one.layer}`, one] as const),
  );
  const inputs = found.inputs.map(({ file, format, layers }) => ({
    file: pathFrom(out, file),
    format,
    extentM: layers.length === 1 ? layers[0]!.extent_m : null,
    crs: [...new Set(layers.flatMap((layer) => layer.crs ?? []))].join(", ") || null,
    layers: layers.map((layer) => {
      const roles = rolesOf.get(`${file}\n${layer.name}`);
      return {
        name: layer.name,
        features: layer.features,
        geometries: layer.geometries,
        roles: layer.roles,
        because: layer.role_from ?? "",
        isPlain: roles !== undefined && isPlain(roles, layer.features),
        fields: layer.fields,
      };
    }),
  }));
  const lawns = found.layerRoles.reduce((sum, one) => sum + (one.roles.lawn ?? 0), 0);
  return { name, inputs, lawns, crs: crs === undefined ? undefined : `EPSG:${crs}` };
}

/** Whether a rule by layer name would say of every feature what is so without it. */
function isPlain({ roles, evidence }: LayerRoles, features: number): boolean {
  const counts = Object.values(roles);
  if (evidence.rule !== undefined) return counts.length === 1;
  return counts.length === 1 && counts[0] === features && evidence.tags === undefined;
}

/** A file as the site file names it. */
function pathFrom(out: string, file: string): string {
  if (isAbsolute(file)) return file;
  return relative(dirname(resolve(out)), resolve(file))
    .split(sep)
    .join("/");
}

async function refuseExisting(out: string): Promise<void> {
  const there = await lstat(out).catch(() => undefined);
  if (there) throw existing(out);
}

function existing(out: string): Refusal {
  return misuse(
    "INIT_FILE_EXISTS",
    "The file is already there: nothing was written.",
    "Choose another name with --out, or replace it with --force.",
    out,
  );
}

/** Writes the file so that it appears whole or not at all; another one only with `--force`. */
async function write(out: string, text: string, force: boolean): Promise<void> {
  try {
    if (!(await writeFileWhole(out, text, { replace: force }))) throw existing(out);
  } catch (error) {
    const code = codeOfError(error);
    if (error instanceof Refusal || code === undefined) throw error;
    throw misuse(
      "INIT_NOT_WRITABLE",
      `The file cannot be written (${code}).`,
      "Choose a file that you may write to with --out.",
      out,
    );
  }
}
