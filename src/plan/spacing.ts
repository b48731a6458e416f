import type { Profile } from "../model/profile.ts";

/**
 * Spacing to plan pegs by: a fifth of a per mille under the profile's limit, so that writing to
 * 0.1 mm and measuring in another projection cannot bring a span over it.
 */
export function pegSpacingM(profile: Profile): number {
  return profile.pegs.spacingMaxM * (1 - 2e-4);
}
