/** The machine that a command line or a site file names. Pure: texts in, profile out. */
import { done, type Outcome } from "../model/finding.ts";
import type { Profile } from "../model/profile.ts";
import { builtInProfile } from "../profile/built-in.ts";
import { DEFAULT_PROFILE, PROFILE_NAMES, type ProfileName } from "../profile/names.ts";
import { readProfile } from "../profile/read-profile.ts";
import type { SiteFile } from "./site-file.ts";

type Said = SiteFile["profile"];

/** The file that holds the profile; undefined where it is a built-in one or stands in the site file. */
export function profileFileOf(said: Said = DEFAULT_PROFILE): string | undefined {
  return typeof said === "string" && !isBuiltIn(said) ? said : undefined;
}

export const isBuiltIn = (name: string): name is ProfileName =>
  (PROFILE_NAMES as readonly string[]).includes(name);

/**
 * @param said a built-in profile's name, a file's name, or values over a built-in profile
 * @param siteFile name of the site file, for messages
 * @param text content of the file where `profileFileOf` names one
 */
export function chosenProfile(
  said: Said = DEFAULT_PROFILE,
  siteFile = "",
  text = "",
): Outcome<Profile> {
  if (typeof said === "object") return inlineProfile(said, siteFile);
  return isBuiltIn(said) ? done(builtInProfile(said)) : readProfile(text, said);
}

/** Values over those of a built-in profile: what is left to that one was left on purpose. */
function inlineProfile(given: Exclude<Said, string | undefined>, siteFile: string) {
  const base = given.based_on ?? DEFAULT_PROFILE;
  const label = `${builtInProfile(base).label}, with changes from the site file`;
  const named = { name: `${base} with changes`, label, ...given };
  const outcome = readProfile(JSON.stringify(named), siteFile);
  const findings = outcome.findings.filter((finding) => finding.code !== "PROFILE_FILLED");
  return { ...outcome, findings };
}
