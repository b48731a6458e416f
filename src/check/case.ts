import type { Profile } from "../model/profile.ts";
import type { Site } from "../model/site.ts";
import { CarriedRuns } from "./carried.ts";
import { Ground } from "./ground/ground.ts";
import type { Neck } from "./necks.ts";
import { necksOf } from "./necks.ts";
import type { Scene } from "./scene.ts";
import type { StatedPlan } from "./stated/stated-plan.ts";
import { Wires } from "./wires.ts";

/** What rules measure: the site, the machine, the wire, and what is said of it. */
export class Case implements Scene {
  readonly site: Site;
  readonly profile: Profile;
  readonly plan: StatedPlan;
  readonly wires: Wires;
  #carried: CarriedRuns | undefined;
  #ground: Ground | undefined;
  #necks: readonly Neck[] | undefined;

  constructor(site: Site, profile: Profile, plan: StatedPlan) {
    this.site = site;
    this.profile = profile;
    this.plan = plan;
    this.wires = new Wires(plan.loops);
  }

  get ground(): Ground {
    this.#ground ??= new Ground(this.site, this.profile, this.wires);
    return this.#ground;
  }

  get carried(): CarriedRuns {
    this.#carried ??= new CarriedRuns(this.plan, this.wires);
    return this.#carried;
  }

  /** Narrow places between wires, and between wire and firm things. */
  get necks(): readonly Neck[] {
    this.#necks ??= necksOf(this);
    return this.#necks;
  }
}
