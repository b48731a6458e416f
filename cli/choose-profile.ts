import { readFile } from "node:fs/promises";
import { basename } from "node:path";
import type { Finding } from "../src/model/finding.ts";
import type { Profile } from "../src/model/profile.ts";
import { builtInProfile } from "../src/profile/built-in.ts";
import { DEFAULT_PROFILE, PROFILE_NAMES, type ProfileName } from "../src/profile/names.ts";
import { nearestName } from "../src/profile/nearest-name.ts";
import type { SiteFile } from "../src/sitefile/site-file.ts";
import { misuse, Refusal } from "./refusal.ts";

/**
 * The profile that `--profile` or a site file names: a built-in one, a JSON file, or values that
 * stand in the site file itself.
 */
export async function chooseProfile(
  given: SiteFile["profile"] = DEFAULT_PROFILE,
  siteFile?: string,
): Promise<{ profile: Profile; findings: readonly Finding[] }> {
  if (typeof given === "object") return inlineProfile(given, siteFile ?? "");
  if ((PROFILE_NAMES as readonly string[]).includes(given)) {
    return { profile: builtInProfile(given as ProfileName), findings: [] };
  }
  const text = await readFile(given, "utf8").catch((error: NodeJS.ErrnoException) => {
    throw profileNotFound(given, error.code ?? "");
  });
  const { readProfile } = await import("../src/profile/read-profile.ts");
  const outcome = readProfile(text, given);
  if (!outcome.ok) throw new Refusal(outcome.problem);
  return { profile: outcome.value, findings: outcome.findings };
}

/** Values over those of a built-in profile: what is left to that one was left on purpose. */
async function inlineProfile(
  given: Exclude<SiteFile["profile"], string | undefined>,
  siteFile: string,
): Promise<{ profile: Profile; findings: readonly Finding[] }> {
  const { readProfile } = await import("../src/profile/read-profile.ts");
  const base = given.based_on ?? DEFAULT_PROFILE;
  const label = `${builtInProfile(base).label}, with changes from the site file`;
  const named = { name: `${base} with changes`, label, ...given };
  const outcome = readProfile(JSON.stringify(named), siteFile);
  if (!outcome.ok) throw new Refusal(outcome.problem);
  const findings = outcome.findings.filter((finding) => finding.code !== "PROFILE_FILLED");
  return { profile: outcome.value, findings };
}

function profileNotFound(given: string, code: string): Refusal {
  const near = nearestName(basename(given), PROFILE_NAMES);
  const known = `The built-in profiles are ${PROFILE_NAMES.join(", ")}.`;
  return misuse(
    "PROFILE_NOT_FOUND",
    code === "ENOENT"
      ? `There is no built-in profile and no file named ${given}.`
      : `The profile file ${given} cannot be read (${code}).`,
    near ? `Did you mean ${near}? ${known}` : known,
    given,
  );
}
