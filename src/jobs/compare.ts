/** A wire in the ground against its plan: from files to what differs. Pure. */
import { checkPlan, type Verdict } from "../check/check-plan.ts";
import { toSiteGrid } from "../crs/to-site-grid.ts";
import { type AsLaid, compareAsLaid } from "../handover/as-laid/as-laid.ts";
import { trackOf } from "../handover/as-laid/track.ts";
import { readInputs } from "../import/read-inputs.ts";
import type { InputFile } from "../model/features.ts";
import { done, failed, type Outcome } from "../model/finding.ts";
import type { Profile } from "../model/profile.ts";
import type { SiteGrid } from "../model/site.ts";
import { builtInProfile } from "../profile/built-in.ts";
import { type PlanOptions, readSite } from "./pegline.ts";
import { readPlan } from "./read-plan.ts";

export interface CompareInputsOptions extends PlanOptions {
  /** Standard error of the receiver, metres. */
  readonly noiseM: number;
  /** Takes a shift that all measurements have in common off first. */
  readonly align: boolean;
}

export interface Compared extends AsLaid {
  readonly grid: SiteGrid;
  readonly profile: Profile;
  /** The wire as laid against the site; undefined where no site was given. */
  readonly verdict: Verdict | undefined;
}

/**
 * Compares a walked track, surveyed pegs or an edited wire with the plan that it follows.
 *
 * @param plan the file of the plan
 * @param track the files of what was measured
 * @param inputs the files of the site, for the rules; may be empty
 */
export async function compareInputs(
  plan: InputFile,
  track: readonly InputFile[],
  inputs: readonly InputFile[],
  options: CompareInputsOptions,
): Promise<Outcome<Compared>> {
  const registry = options.registry ?? (() => undefined);
  const profile = options.profile ?? builtInProfile();
  const site = inputs.length > 0 ? await readSite(inputs, options) : undefined;
  if (site && !site.ok) return site;
  const read = await readPlan(plan, { registry, ...(site ? { grid: site.value.grid } : {}) });
  if (!read.ok) return read;
  const { grid } = read.value;
  const layers = await readInputs(track, {});
  if (!layers.ok) return layers;
  const crs = options.crs === undefined ? {} : { crsOverride: options.crs };
  const placed = toSiteGrid(layers.value, { ...crs, registry, grid });
  const noticed = [...(site?.findings ?? []), ...read.findings];
  noticed.push(...layers.findings, ...placed.findings);
  if (!placed.ok) return failed(placed.problem, noticed);
  const compared = compareAsLaid(read.value.plan, trackOf(placed.value.layers), options);
  if (!compared.ok) return failed(compared.problem, noticed);
  const verdict = site && checkPlan(site.value, profile, compared.value.plan);
  const findings = [...noticed, ...compared.findings, ...(verdict?.findings ?? [])];
  return done({ ...compared.value, findings, grid, profile, verdict }, findings);
}
