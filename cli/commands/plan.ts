import { relative } from "node:path";
import { planFiles } from "../../src/export/plan-files.ts";
import { summaryText } from "../../src/export/summary-text.ts";
import type { Role } from "../../src/model/roles.ts";
import { planInputs } from "../../src/pegline.ts";
import { chooseProfile } from "../choose-profile.ts";
import { epsgRegistry } from "../epsg-registry.ts";
import { exitOf } from "../exit-codes.ts";
import { openInputs } from "../open-inputs.ts";
import { Refusal } from "../refusal.ts";
import { type CommonOptions, Terminal } from "../terminal.ts";
import { claimFolder, defaultFolder, writeFolder } from "../write-results.ts";

export interface PlanOptions extends CommonOptions {
  readonly out?: string;
  readonly profile?: string;
  readonly crs?: number;
  readonly role?: Readonly<Record<string, Role>>;
}

/** `pegline plan INPUT…`: plans, writes the results, says what to lay and to buy. */
export async function planCommand(paths: readonly string[], options: PlanOptions): Promise<number> {
  const terminal = new Terminal(options);
  const { profile, findings: profileFindings } = await chooseProfile(options.profile);
  terminal.progress("Reading");
  const inputs = await openInputs(paths);
  const folder = await claimFolder(options.out ?? defaultFolder(paths[0]!));
  terminal.progress("Planning");
  const outcome = await planInputs(inputs, {
    profile,
    name: defaultFolder(paths[0]!),
    crs: options.crs,
    roles: options.role,
    registry: epsgRegistry,
  });
  if (!outcome.ok) throw new Refusal(outcome.problem);
  const findings = [...profileFindings, ...outcome.value.findings];
  const { files, summary } = planFiles({ ...outcome.value, findings });
  terminal.progress("Writing");
  await writeFolder(folder, files);
  terminal.result(summary, () => `${summaryText(summary)}\n`);
  terminal.findings(summary.findings);
  const shown = relative(process.cwd(), folder) || ".";
  terminal.note(`Results in ${shown}: ${files.map((file) => file.name).join(", ")}`);
  return exitOf(summary.findings);
}
