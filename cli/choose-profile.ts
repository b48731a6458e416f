import { readFile } from "node:fs/promises";
import type { Finding } from "../src/model/finding.ts";
import type { Profile } from "../src/model/profile.ts";
import { builtInProfile } from "../src/profile/built-in.ts";
import { DEFAULT_PROFILE, PROFILE_NAMES, type ProfileName } from "../src/profile/names.ts";
import { nearestName } from "../src/profile/nearest-name.ts";
import { misuse, Refusal } from "./refusal.ts";

/** The profile that `--profile` names: a built-in one, or a JSON file. */
export async function chooseProfile(
  given: string = DEFAULT_PROFILE,
): Promise<{ profile: Profile; findings: readonly Finding[] }> {
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

function profileNotFound(given: string, code: string): Refusal {
  const near = nearestName(given, PROFILE_NAMES);
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
