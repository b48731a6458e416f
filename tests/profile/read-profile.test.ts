import { describe, expect, it } from "vitest";
import { builtInFile, builtInProfile } from "../../src/profile/built-in.ts";
import { fileOfProfile, profileOfFile } from "../../src/profile/convert.ts";
import { PROFILE_NAMES } from "../../src/profile/names.ts";
import { nearestName } from "../../src/profile/nearest-name.ts";
import { fullProfileSchema } from "../../src/profile/profile-file.ts";
import { readProfile } from "../../src/profile/read-profile.ts";

const read = (value: unknown) => readProfile(JSON.stringify(value), "machine.json");

function problemOf(value: unknown): { code: string; message: string } {
  const outcome = read(value);
  if (outcome.ok) throw new Error("the profile was accepted");
  return outcome.problem;
}

describe("built-in profiles", () => {
  it.each(PROFILE_NAMES)("%s is complete, valid and marked as typical", (name) => {
    const file = builtInFile(name);
    expect(fullProfileSchema.parse(file)).toEqual(file);
    expect(read(file).ok).toBe(true);
    expect(`${file.label} ${file.note}`).toMatch(/typical.*invented.*replace/is);
  });

  it("survive the way into the planner's form and back", () => {
    for (const name of PROFILE_NAMES) {
      const file = builtInFile(name);
      expect(fileOfProfile(profileOfFile(file))).toEqual(file);
    }
  });

  // IEC 60228 class 5 plain copper at 20 °C (from memory): 0.75, 1.0, 1.5 mm².
  it("carry the resistance of flexible copper", () => {
    expect(PROFILE_NAMES.map((name) => builtInProfile(name).wire.ohmPerKm)).toEqual([
      26, 19.5, 13.3,
    ]);
  });
});

describe("readProfile", () => {
  it("fills what is missing from the profile it is based on, and says so", () => {
    const outcome = read({ name: "mine", based_on: "large", setin_m: { open: 0.25 } });
    if (!outcome.ok) throw new Error(outcome.problem.message);
    expect(outcome.value.setinM.open).toBe(0.25);
    expect(outcome.value.setinM.wall).toBe(0.35);
    expect(outcome.value.passage.driveMinM).toBe(1.2);
    expect(outcome.findings).toHaveLength(1);
    expect(outcome.findings[0]).toMatchObject({ code: "PROFILE_FILLED", severity: "info" });
    expect(outcome.findings[0]!.message).toContain("passage.drive_min_m");
    expect(outcome.findings[0]!.message).not.toContain("setin_m.open");
  });

  it("names the right key beside a misspelt one", () => {
    const problem = problemOf({ name: "mine", passage: { drive_min: 0.7 } });
    expect(problem.code).toBe("PROFILE_INVALID");
    expect(problem.message).toContain("passage.drive_min (did you mean drive_min_m?)");
  });

  it("says where a field belongs that stands in the wrong section", () => {
    expect(problemOf({ name: "mine", reel_m: 100 }).message).toContain("wire.reel_m");
  });

  it.each([
    ["a negative set-in", { name: "a", setin_m: { open: -0.1 } }, "setin_m.open"],
    ["a number as text", { name: "a", pegs: { spacing_max_m: "1" } }, "pegs.spacing_max_m"],
    ["no name", { setin_m: { open: 0.3 } }, "name"],
    ["an unknown base", { name: "a", based_on: "huge" }, "based_on"],
    ["a list", [], "the file"],
  ])("refuses %s and names the field", (_, value, field) => {
    const problem = problemOf(value);
    expect(problem.code).toBe("PROFILE_INVALID");
    expect(problem.message).toContain(field);
  });

  it("refuses passage widths out of order, also against a filled-in one", () => {
    expect(problemOf({ name: "a", passage: { drive_min_m: 1.9 } }).code).toBe(
      "PROFILE_CONTRADICTS",
    );
    expect(problemOf({ name: "a", passage: { report_below_m: 1 } }).message).toContain("mow_min_m");
  });

  it("refuses text that is not JSON", () => {
    const outcome = readProfile("name: mine", "machine.yaml");
    expect(outcome).toMatchObject({
      ok: false,
      problem: { code: "PROFILE_NOT_JSON", kind: "usage", file: "machine.yaml" },
    });
  });
});

describe("nearestName", () => {
  it("finds a near name and none where all are far", () => {
    expect(nearestName("wal", ["open", "wall"])).toBe("wall");
    expect(nearestName("xyzzyplugh", ["open", "wall"])).toBeUndefined();
  });
});
