import { basename, relative, resolve } from "node:path";
import { jsonText } from "../../src/escape/json.ts";
import { terminalName } from "../../src/escape/terminal.ts";
import { CONVERSION_NAMES, conversionResult } from "../../src/export/exchange/conversion-result.ts";
import { FORMAT_NAMES, type FormatName } from "../../src/export/exchange/formats.ts";
import type { OutCrs } from "../../src/export/exchange/out-crs.ts";
import { writtenFinding } from "../../src/export/ordered-findings.ts";
import { table } from "../../src/export/plain-text.ts";
import { convertPlan } from "../../src/jobs/convert-plan.ts";
import { epsgRegistry } from "../epsg-registry.ts";
import { exitOf } from "../exit-codes.ts";
import { openInputs } from "../open-inputs.ts";
import { planFileOf } from "../plan-file.ts";
import { misuse, Refusal } from "../refusal.ts";
import { claimFolder, type ResultKind } from "../results/claim-folder.ts";
import { stemOfPath } from "../results/default-folder.ts";
import { FILE_OPS } from "../results/file-ops.ts";
import { writeFolder } from "../results/write-folder.ts";
import { stoppable } from "../signals.ts";
import { type CommonOptions, Terminal } from "../terminal.ts";

interface ConvertCommandOptions extends CommonOptions {
  readonly out?: string;
  readonly crs?: number;
  readonly format?: readonly FormatName[];
  readonly outCrs?: OutCrs;
}

const MARK = "conversion.json";
const CONVERSION: ResultKind = { names: CONVERSION_NAMES, mark: MARK };

/** `pegline convert PLAN --format …`: writes a plan in other formats. */
export async function convertCommand(
  path: string | undefined,
  options: ConvertCommandOptions,
): Promise<number> {
  if (path === undefined) {
    throw misuse(
      "INPUT_MISSING",
      "No plan is named.",
      "Name the plan: `pegline convert garden/plan.geojson --format gpkg`.",
    );
  }
  if (options.format === undefined) {
    throw misuse(
      "FORMAT_MISSING",
      "No format is named.",
      `Say which with --format: ${FORMAT_NAMES.join(", ")}.`,
    );
  }
  const terminal = new Terminal(options);
  terminal.progress("Reading");
  const file = await planFileOf(path);
  const [plan] = await openInputs([file]);
  const claim = await claimFolder(options.out ?? folderFor(path), [file], FILE_OPS, CONVERSION);
  const { format: formats, outCrs, crs } = options;
  const outcome = await convertPlan(plan!, { formats, outCrs, crs, registry: epsgRegistry });
  if (!outcome.ok) throw new Refusal(outcome.problem);
  const result = conversionResult(file, outcome.value, outcome.findings);
  const files = [{ name: MARK, text: `${jsonText(result, 2)}\n` }, ...outcome.value.files];
  terminal.progress("Writing");
  const written = await stoppable((checkStop) => writeFolder(claim, files, checkStop));
  const shown = terminalName(relative(process.cwd(), claim.path) || ".");
  terminal.result(result, () => {
    const rows = result.formats.map((one) => [
      one.files.join(", "),
      `${one.features} features`,
      terminalName(one.crs),
    ]);
    return `${table(rows).join("\n")}\n`;
  });
  terminal.findings([...result.findings, ...written.map((one) => writtenFinding(one))]);
  terminal.note(`Files in ${shown}`);
  return exitOf(result.findings);
}

/** Named after the plan, here; `garden/plan.geojson` is the plan of the garden. */
function folderFor(path: string): string {
  const stem = stemOfPath(path);
  const name = stem === "plan" ? basename(resolve(path, "..")) : stem;
  return `${name || "plan"}-formats`;
}
