/** Direct sun at places of a site, over a season. */
import type { PointM } from "../../model/geometry.ts";
import type { SunAtPlace } from "../../model/station.ts";
import type { Caster } from "./casters.ts";
import type { Season } from "./season.ts";
import { DIRECTIONS, directionOf, isHidden, type SkyGround, skylineOf } from "./skyline.ts";

export class SunStudy {
  readonly #casters: readonly Caster[];
  readonly #season: Season;
  readonly #ground: SkyGround | undefined;
  /** Directions that the sun comes to. */
  readonly #wanted = new Uint8Array(DIRECTIONS);
  readonly #hotHours: number;

  constructor(season: Season, casters: readonly Caster[], ground: SkyGround | undefined) {
    this.#season = season;
    this.#casters = casters;
    this.#ground = ground;
    for (const { azimuthDeg } of season.samples) this.#wanted[directionOf(azimuthDeg)] = 1;
    this.#hotHours = season.samples.reduce((sum, one) => sum + (one.isHot ? one.hours : 0), 0);
  }

  /** Hours of direct sun a day and shade in the hot hours at a place on the ground. */
  at(atM: PointM): SunAtPlace {
    const sky = skylineOf(atM, this.#casters, this.#wanted, this.#ground);
    let [hoursADay, hot] = [0, 0];
    for (const { azimuthDeg, rise, hours, isHot } of this.#season.samples) {
      if (isHidden(sky[directionOf(azimuthDeg)]!, rise)) continue;
      hoursADay += hours;
      if (isHot) hot += hours;
    }
    return { hoursADay, hotShade: this.#hotHours > 0 ? 1 - hot / this.#hotHours : 1 };
  }
}
