/** Good plans to judge and to corrupt: random sites, a demo garden, an estate of several loops. */
import { readFile } from "node:fs/promises";
import { epsgRegistry } from "../../cli/epsg-registry.ts";
import type { StatedPlan } from "../../src/check/stated/stated-plan.ts";
import {
  builtInProfile,
  type InputFile,
  type Profile,
  planSite,
  readSite,
  type Site,
  statedOfPlan,
} from "../../src/index.ts";
import type { PlanOptions } from "../../src/model/plan-options.ts";
import { estate } from "../support/estates.ts";
import { geojsonInput } from "../support/planning.ts";
import { randomSite } from "../support/random-site.ts";

export interface Good {
  readonly name: string;
  readonly site: Site;
  readonly profile: Profile;
  readonly plan: StatedPlan;
}

const PROFILES = ["small", "medium", "large"] as const;

export function profileOf(seed: number): Profile {
  return builtInProfile(PROFILES[seed % PROFILES.length]!);
}

async function planned(
  name: string,
  inputs: readonly InputFile[],
  profile: Profile,
  options: PlanOptions = {},
): Promise<Good | undefined> {
  const read = await readSite(inputs, { registry: epsgRegistry, profile });
  if (!read.ok) throw new Error(`${name}: ${read.problem.code}`);
  const made = planSite(read.value, profile, options);
  if (!made.ok) return undefined;
  return { name, site: read.value, profile, plan: statedOfPlan(made.value) };
}

/** The plan of a random site; undefined where the site has no room for wire. */
export async function randomPlan(seed: number, oneKind: boolean): Promise<Good | undefined> {
  const { features } = randomSite(seed, { oneKind });
  return planned(`random ${seed}`, [geojsonInput(features)], profileOf(seed));
}

export async function demoPlan(): Promise<Good> {
  const name = "fixtures/demo/house-garden.geojson";
  const made = await planned(name, [{ name, bytes: await readFile(name) }], profileOf(1));
  return made!;
}

/** An estate that is divided between loops, or, with `split` false, one loop that is too large. */
export async function estatePlan(seed: number, split = true): Promise<Good> {
  const { features } = estate(seed, { radiusM: 45, islands: 6, trees: 4 });
  const made = await planned(`estate ${seed}`, [geojsonInput(features)], profileOf(1), { split });
  return made!;
}
