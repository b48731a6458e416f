import type { z } from "zod";
import { done, type Finding, failed, type Outcome } from "../model/finding.ts";
import type { Profile } from "../model/profile.ts";
import { builtInFile } from "./built-in.ts";
import { profileOfFile } from "./convert.ts";
import { DEFAULT_PROFILE } from "./names.ts";
import { nearestName } from "./nearest-name.ts";
import {
  type FullProfileFile,
  fullProfileSchema,
  type ProfileFile,
  profileFileSchema,
} from "./profile-file.ts";

const SECTIONS = [
  "setin_m",
  "passage",
  "pegs",
  "wire",
  "corners",
  "guide",
  "station",
  "station_weights",
  "loop",
  "mowing",
  "work",
  "terrain",
  "obstacles",
] as const;

/**
 * Reads a machine profile from the text of a JSON file.
 *
 * Fields left out are filled from the profile that `based_on` names, and a finding lists them.
 * Problems: `PROFILE_NOT_JSON`, `PROFILE_INVALID` (unknown key, wrong type, out of range) and
 * `PROFILE_CONTRADICTS` (widths out of order); all say which field.
 *
 * @param text contents of the file
 * @param file its name, for messages
 */
export function readProfile(text: string, file: string): Outcome<Profile> {
  let json: unknown;
  try {
    json = JSON.parse(text.replace(/^\uFEFF/, ""));
  } catch (error) {
    return refuse(
      file,
      "PROFILE_NOT_JSON",
      `The profile is not valid JSON: ${(error as Error).message}`,
      "Mend the JSON; `pegline profiles medium` prints a whole profile to start from.",
    );
  }
  const parsed = profileFileSchema.safeParse(json);
  if (!parsed.success) {
    return refuse(
      file,
      "PROFILE_INVALID",
      `The profile has ${parsed.error.issues.length === 1 ? "a mistake" : "mistakes"}: ${parsed.error.issues.map(explain).join("; ")}.`,
      "Correct the fields named; docs/profile.md lists every field with its unit and range.",
    );
  }
  const { full, filled } = complete(parsed.data);
  const clash = contradiction(full);
  if (clash) {
    return refuse(
      file,
      "PROFILE_CONTRADICTS",
      clash,
      "Set passage widths so that drive_min_m ≤ mow_min_m ≤ report_below_m.",
    );
  }
  return done(profileOfFile(full), filled.length > 0 ? [filledFinding(file, full, filled)] : []);
}

function refuse(file: string, code: string, message: string, remedy: string): Outcome<Profile> {
  return failed({ code, kind: "usage", file, message, remedy });
}

function complete(partial: ProfileFile): { full: FullProfileFile; filled: string[] } {
  const base = builtInFile(partial.based_on ?? DEFAULT_PROFILE);
  const filled: string[] = [];
  const sections: Record<string, unknown> = {};
  for (const section of SECTIONS) {
    const given: Record<string, unknown> = partial[section] ?? {};
    for (const field of Object.keys(base[section])) {
      if (given[field] === undefined) filled.push(`${section}.${field}`);
    }
    sections[section] = { ...base[section], ...given };
  }
  const { $schema: _, based_on: __, ...named } = partial;
  const full = {
    ...named,
    ...sections,
    label: partial.label ?? partial.name,
    note: partial.note ?? "",
  } as FullProfileFile;
  return { full, filled };
}

function contradiction({ passage }: FullProfileFile): string | undefined {
  const { drive_min_m, mow_min_m, report_below_m } = passage;
  if (drive_min_m > mow_min_m)
    return `passage.drive_min_m (${drive_min_m}) is more than passage.mow_min_m (${mow_min_m}).`;
  if (mow_min_m > report_below_m)
    return `passage.mow_min_m (${mow_min_m}) is more than passage.report_below_m (${report_below_m}).`;
  return undefined;
}

function filledFinding(file: string, full: FullProfileFile, filled: readonly string[]): Finding {
  return {
    code: "PROFILE_FILLED",
    severity: "info",
    file,
    message: `Profile "${full.name}" leaves ${filled.length} fields to the built-in profile: ${filled.join(", ")}.`,
    remedy: "Give these fields from the machine's manual where they differ.",
  };
}

/** One mistake with its path in the file and, for an unknown key, the nearest right one. */
function explain(issue: z.core.$ZodIssue): string {
  const path = issue.path.join(".");
  if (issue.code === "unrecognized_keys") {
    const known = keysAt(issue.path);
    return issue.keys
      .map((key) => {
        const near = nearestName(key, known) ?? pathOfField(key);
        const hint = near ? `did you mean ${near}?` : `known here: ${known.join(", ")}`;
        return `unknown key ${path ? `${path}.` : ""}${key} (${hint})`;
      })
      .join("; ");
  }
  return `${path || "the file"}: ${issue.message}`;
}

function keysAt(path: readonly PropertyKey[]): string[] {
  const shape: Record<string, z.ZodType> = { ...fullProfileSchema.shape };
  const section = path.length === 0 ? undefined : shape[String(path[0])];
  if (!section) return Object.keys(shape);
  return Object.keys((section as z.ZodObject).shape ?? {});
}

/** Where a field belongs that stands in the wrong section. */
function pathOfField(key: string): string | undefined {
  const section = SECTIONS.find((name) => keysAt([name]).includes(key));
  return section && `${section}.${key}`;
}
