/** One site planned again and again as it is edited. Pure; the worker gives it its messages. */
import { registryOf } from "../../crs/kept-register.ts";
import type { PlanResult } from "../../export/plan-result.ts";
import type { PlacedInputs } from "../../jobs/pegline.ts";
import { placer } from "../../jobs/place-rules.ts";
import { plainPath, type SiteFilePlan, SiteFilePlanner } from "../../jobs/plan-site-file.ts";
import { done, failed, type Outcome } from "../../model/finding.ts";
import type { HandOverOptions } from "../../model/hand-over-options.ts";
import { parseJsonText } from "../../sitefile/json-text.ts";
import type { SiteFile } from "../../sitefile/site-file.ts";
import type { EditGround } from "../edits/apply-edit.ts";
import type { Edit } from "../edits/edit.ts";
import { EditedText } from "../edits/edited-text.ts";
import type { PageSource } from "./source.ts";

/** A plan after some edits. */
export interface Replanned {
  readonly result: PlanResult;
  readonly handOver: HandOverOptions;
  /** The site file that gives this plan. */
  readonly siteFile: string;
}

export class PlanningSession {
  readonly #source: PageSource;
  readonly #planner: SiteFilePlanner;
  #text: EditedText | undefined;

  constructor(source: PageSource) {
    this.#source = source;
    const { files, epsg, signal, coverage } = source;
    const registry = registryOf(epsg);
    this.#planner = new SiteFilePlanner(files, { registry, signal, coverage });
  }

  /**
   * Plans the site with some edits.
   *
   * @returns the plan that the command makes of `siteFile` and the same files; or the problem that
   *   stopped it: of kind `usage` where an edit has a value that no site file may have
   */
  async plan(edits: readonly Edit[]): Promise<Outcome<Replanned>> {
    const { name, text } = this.#source.siteFile;
    if (!this.#text) {
      const first = await this.#planner.plan(text, name);
      if (!first.ok) return first;
      this.#text = new EditedText(text, this.#ground(first.value));
      if (edits.length === 0) return done(replanned(first.value, text), first.findings);
    }
    const siteFile = this.#text.with(edits);
    const outcome = await this.#planner.plan(siteFile, name);
    return outcome.ok
      ? done(replanned(outcome.value, siteFile), outcome.findings)
      : failed(outcome.problem, outcome.findings);
  }

  #ground({ placed, crs }: SiteFilePlan): EditGround {
    const { grid } = placed;
    const place = placer(grid, crs, registryOf(this.#source.epsg));
    const written = writtenNames(this.#source.siteFile.text);
    return {
      toDegrees: (atM) => grid.inverse(atM),
      toMetres: (at, own) => place(at, own),
      nameOf: ({ file, layer, number }) => ({
        id: idOf(placed, file, layer, number),
        ...(written.size > 1 && { file: written.get(file) ?? file }),
        ...(layer !== "" && layer.length <= 1000 && { layer }),
      }),
      profile: this.#source.files.profile,
    };
  }
}

function replanned({ result, handOver }: SiteFilePlan, siteFile: string): Replanned {
  return { result, handOver, siteFile };
}

/** Inputs as the site file writes them, by their plain paths. */
function writtenNames(text: string): ReadonlyMap<string, string> {
  const json = parseJsonText(text);
  const inputs = Array.isArray(json) ? [] : ((json.value as SiteFile).inputs ?? []);
  const names = inputs.map((one) => (typeof one === "string" ? one : one.file));
  return new Map(names.map((name) => [plainPath(name), name]));
}

/** The id of a feature, where it has one that is its alone in its layer. */
function idOf(
  { layers }: PlacedInputs,
  file: string,
  layer: string,
  number: number,
): string | undefined {
  const features = layers.find((one) => one.file === file && one.layer === layer)?.features ?? [];
  const id = features.find((one) => one.number === number)?.id;
  if (id === undefined || id === "" || id.length > 1000) return undefined;
  return features.some((one) => one.id === id && one.number !== number) ? undefined : id;
}
