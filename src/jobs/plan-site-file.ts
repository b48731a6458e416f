/** A plan from the text of a site file and the files that it names, as the command plans it. */
import type { EpsgRegistry } from "../crs/registry.ts";
import type { PlanResult } from "../export/plan-result.ts";
import { stemOf } from "../import/reader.ts";
import type { InputFile } from "../model/features.ts";
import { done, type Finding, failed, type Outcome } from "../model/finding.ts";
import type { HandOverOptions } from "../model/hand-over-options.ts";
import { chosenProfile, profileFileOf } from "../sitefile/chosen-profile.ts";
import { readSiteFile } from "../sitefile/read-site-file.ts";
import { mergeOptions, optionsOfSiteFile } from "../sitefile/site-options.ts";
import { type PlacedInputs, type PlanOptions, planPlaced, readPlaced } from "./pegline.ts";

/** The files that a site file names, under the names that it has for them. */
export interface NamedFiles {
  /** In the order of `inputs`. */
  readonly inputs: readonly InputFile[];
  readonly terrain?: InputFile | undefined;
  /** Text of the profile file, where one is named. */
  readonly profile?: string | undefined;
}

/** A site file's text with the files that it names, ready to be planned. */
interface Prepared {
  readonly options: PlanOptions;
  readonly handOver: HandOverOptions;
  readonly findings: readonly Finding[];
}

export interface SiteFilePlan {
  readonly result: PlanResult;
  readonly placed: PlacedInputs;
  readonly handOver: HandOverOptions;
  /** The site file's own reference system. */
  readonly crs: number | string | undefined;
}

export interface SiteFilePlannerOptions
  extends Pick<PlanOptions, "signal" | "coverage" | "onProgress"> {
  readonly registry: EpsgRegistry;
}

/**
 * Plans one site again and again as its site file changes. What does not change with it, the inputs
 * read and placed, is kept from one plan to the next.
 */
export class SiteFilePlanner {
  readonly #files: NamedFiles;
  readonly #options: SiteFilePlannerOptions;
  #kept: { readonly key: string; readonly placed: Outcome<PlacedInputs> } | undefined;

  constructor(files: NamedFiles, options: SiteFilePlannerOptions) {
    this.#files = files;
    this.#options = options;
  }

  /**
   * @param text content of the site file
   * @param name its name, for messages
   * @returns what `pegline plan` makes of the same site file and files, with the same findings in the
   *   same order; problems of reading the site file and the profile, and those of `planInputs`
   */
  async plan(text: string, name: string): Promise<Outcome<SiteFilePlan>> {
    const prepared = this.#prepare(text, name);
    if (!prepared.ok) return prepared;
    const { options, handOver, findings: before } = prepared.value;
    const placed = await this.#placed(options);
    if (!placed.ok) return failed(placed.problem, [...before, ...placed.findings]);
    const outcome = await planPlaced(placed.value, options);
    const findings = [...before, ...outcome.findings];
    if (!outcome.ok) return failed(outcome.problem, findings);
    const result = { ...outcome.value, findings: [...before, ...outcome.value.findings] };
    return done({ result, placed: placed.value, handOver, crs: options.crs }, findings);
  }

  /** What the site file says, in the terms of `planInputs`. */
  #prepare(text: string, name: string): Outcome<Prepared> {
    const read = readSiteFile(text, name);
    if (!read.ok) return read;
    const said = named(optionsOfSiteFile(read.value, name));
    const { options, findings } = mergeOptions(said, {});
    const chosen = chosenProfile(options.profile, name, this.#files.profile);
    const before = [...findings, ...chosen.findings];
    if (!chosen.ok) return failed(chosen.problem, before);
    const { terrain: raster, inputs } = this.#files;
    const { file: _, ...ofTerrain } = options.terrain ?? { file: "" };
    const own: PlanOptions = {
      ...this.#options,
      name: options.name ?? stemOf(inputs[0]?.name ?? "site"),
      crs: options.crs,
      crsByFile: Object.fromEntries(
        (options.inputs ?? []).flatMap(({ file, crs }) =>
          crs === undefined ? [] : [[file, crs] as const],
        ),
      ),
      rules: options.rules,
      profile: chosen.value,
      terrain: raster && options.terrain ? { file: raster, ...ofTerrain } : undefined,
    };
    return done({ options: own, handOver: options.handOver ?? {}, findings: before });
  }

  /** The inputs read and placed, anew only where something that matters to that was said otherwise. */
  async #placed(options: PlanOptions): Promise<Outcome<PlacedInputs>> {
    const { crs, crsByFile, rules } = options;
    const key = JSON.stringify([crs, crsByFile, rules?.surveyCodes, rules?.repair?.chordM]);
    if (this.#kept?.key !== key) {
      this.#kept = { key, placed: await readPlaced(this.#files.inputs, options) };
    }
    return this.#kept.placed;
  }
}

type Said = ReturnType<typeof optionsOfSiteFile>;

/** Names of files as the command has them that is run beside the site file. */
function named(said: Said): Said {
  const features = said.rules.features?.map((rule) =>
    rule.file === undefined ? rule : { ...rule, file: plainPath(rule.file) },
  );
  return {
    ...said,
    inputs: said.inputs?.map((one) => ({ ...one, file: plainPath(one.file) })),
    profile:
      profileFileOf(said.profile) === undefined ? said.profile : plainPath(`${said.profile}`),
    rules: { ...said.rules, features },
  };
}

/** A path without `.`, `//` and steps out of a folder that it has gone into. */
export function plainPath(path: string): string {
  const isRooted = path.startsWith("/");
  const steps: string[] = [];
  for (const step of path.split("/")) {
    if (step === "" || step === ".") continue;
    const isUp = step === ".." && steps.length > 0 && steps.at(-1) !== "..";
    if (isUp) steps.pop();
    else if (step !== ".." || !isRooted) steps.push(step);
  }
  return `${isRooted ? "/" : ""}${steps.join("/")}`;
}
