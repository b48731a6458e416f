import type { Join } from "../geometry/offset.ts";
import type { Profile } from "../model/profile.ts";

/** Bends with a least radius need round joins; corners stay corners otherwise. */
export function joinOf(profile: Profile): Join {
  return profile.corners.bendRadiusMinM > 0 ? "round" : "mitre";
}
