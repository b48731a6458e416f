import { writtenFinding } from "../../src/export/ordered-findings.ts";
import type { Role } from "../../src/model/roles.ts";
import { inspectInputs } from "../../src/pegline.ts";
import { TOOL, VERSION } from "../../src/version.ts";
import { epsgRegistry } from "../epsg-registry.ts";
import { exitOf } from "../exit-codes.ts";
import { inspectionText } from "../inspection-text.ts";
import { openInputs } from "../open-inputs.ts";
import { Refusal } from "../refusal.ts";
import { type CommonOptions, Terminal } from "../terminal.ts";

export interface InspectOptions extends CommonOptions {
  readonly crs?: number;
  readonly role?: Readonly<Record<string, Role>>;
}

/** `pegline inspect INPUT…`: what is in the files, and what is repaired or missing. */
export async function inspectCommand(
  paths: readonly string[],
  options: InspectOptions,
): Promise<number> {
  const terminal = new Terminal(options);
  terminal.progress("Reading");
  const inputs = await openInputs(paths);
  const outcome = await inspectInputs(inputs, {
    crs: options.crs,
    roles: options.role,
    registry: epsgRegistry,
  });
  if (!outcome.ok) throw new Refusal(outcome.problem);
  const { inputs: inspected, extentM, grid, findings } = outcome.value;
  const json = {
    tool: TOOL,
    version: VERSION,
    inputs: inspected,
    extent_m: extentM,
    findings: findings.map((finding) => writtenFinding(finding, grid)),
  };
  terminal.result(json, () => inspectionText(inspected, extentM));
  terminal.findings(json.findings);
  return exitOf(json.findings);
}
