import { readdir } from "node:fs/promises";
import { describe, expect, it } from "vitest";
import { demo, emptyFolder, pegline } from "./run.ts";

const GARDEN = demo("house-garden.geojson");

describe("help and version", () => {
  it("go to standard output and exit 0", async () => {
    const version = await pegline(["--version"]);
    expect(version).toMatchObject({ code: 0, stdout: "0.1.0\n", stderr: "" });
    const help = await pegline(["--help"]);
    expect(help.code).toBe(0);
    for (const word of ["plan", "inspect", "profiles", "Exit codes"])
      expect(help.stdout).toContain(word);
    const plan = await pegline(["plan", "--help"]);
    expect(plan.code).toBe(0);
    for (const option of ["--out", "--profile", "--crs", "--role", "--json", "--quiet"])
      expect(plan.stdout).toContain(option);
  });
});

describe("wrong use exits 2 with a code, a message and a remedy", () => {
  it.each([
    { args: [], code: "COMMAND_MISSING" },
    { args: ["plam", GARDEN], code: "COMMAND_UNKNOWN", remedy: "pegline plan" },
    { args: ["plan"], code: "INPUT_MISSING" },
    { args: ["plan", GARDEN, "--colour"], code: "OPTION_UNKNOWN" },
    { args: ["plan", GARDEN, "--out"], code: "OPTION_VALUE_MISSING" },
    { args: ["plan", GARDEN, "--crs", "british"], code: "CRS_OPTION_INVALID", remedy: "EPSG:" },
    { args: ["plan", GARDEN, "--role", "beds"], code: "ROLE_OPTION_INVALID" },
    { args: ["plan", GARDEN, "--role", "beds=bedd"], code: "ROLE_OPTION_INVALID", remedy: "bed" },
    { args: ["plan", GARDEN, "--profile", "mediun"], code: "PROFILE_NOT_FOUND", remedy: "medium" },
    { args: ["plan", GARDEN, GARDEN], code: "INPUT_TWICE" },
    { args: ["profiles", "huge"], code: "PROFILE_NOT_FOUND" },
  ])("$code: pegline $args", async ({ args, code, remedy }) => {
    const cwd = await emptyFolder();
    const text = await pegline(args, { cwd });
    expect(text.code).toBe(2);
    expect(text.stdout).toBe("");
    expect(text.stderr).toContain(code);
    expect(text.stderr).toContain("To do: ");
    const json = await pegline([...args, "--json"], { cwd });
    expect(json.code).toBe(2);
    expect(await readdir(cwd)).toEqual([]);
    const { error } = json.json();
    expect(Object.keys(error)).toEqual(["code", "message", "remedy", "file"]);
    expect(error.code).toBe(code);
    if (remedy) expect(error.remedy).toContain(remedy);
  });
});
