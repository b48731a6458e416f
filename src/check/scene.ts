import type { Profile } from "../model/profile.ts";
import type { Site } from "../model/site.ts";
import type { CarriedRuns } from "./carried.ts";
import type { Ground } from "./ground/ground.ts";
import type { Wires } from "./wires.ts";

/** The site as the judge sees it, with the wire on it. */
export interface Scene {
  readonly site: Site;
  readonly profile: Profile;
  readonly wires: Wires;
  readonly ground: Ground;
  readonly carried: CarriedRuns;
}
