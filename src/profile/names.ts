/** Names of the built-in machine profiles, smallest first. */
export const PROFILE_NAMES = ["small", "medium", "large"] as const;
export type ProfileName = (typeof PROFILE_NAMES)[number];

/** The profile that is used where none is named. */
export const DEFAULT_PROFILE: ProfileName = "medium";
