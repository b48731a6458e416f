import { readFile } from "node:fs/promises";
import { basename } from "node:path";
import type { Finding } from "../src/model/finding.ts";
import type { Profile } from "../src/model/profile.ts";
import { DEFAULT_PROFILE, PROFILE_NAMES } from "../src/profile/names.ts";
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
  const { chosenProfile, profileFileOf } = await import("../src/sitefile/chosen-profile.ts");
  const file = profileFileOf(given);
  const text =
    file === undefined
      ? undefined
      : await readFile(file, "utf8").catch((error: NodeJS.ErrnoException) => {
          throw profileNotFound(file, error.code ?? "");
        });
  const outcome = chosenProfile(given, siteFile, text);
  if (!outcome.ok) throw new Refusal(outcome.problem);
  return { profile: outcome.value, findings: outcome.findings };
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
