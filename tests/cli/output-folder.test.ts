/** Output folders that cannot or must not be written: refused with a code, nothing harmed. */
import { execFileSync } from "node:child_process";
import { chmod, mkdir, readdir, readFile, rm, symlink, writeFile } from "node:fs/promises";
import { join, resolve } from "node:path";
import { describe, expect, it, onTestFinished } from "vitest";
import { claimFolder } from "../../cli/results/claim-folder.ts";
import { planLawn, RESULT_FILES, siteFolder } from "./lawn.ts";
import { pegline } from "./run.ts";

const IS_ROOT = process.getuid?.() === 0;
const NOBODY = 65_534;

async function refused(cwd: string, out: string, options: { uid?: number } = {}) {
  const ran = await pegline([...planLawn("small", out), "--json"], { cwd, ...options });
  expect(ran.code).toBe(2);
  expect(ran.stderr).not.toMatch(/^\s+at /m);
  return ran.json().error as { code: string; message: string; file: string };
}

/** Names in a folder with the content of files, to see that nothing has changed. */
async function content(folder: string): Promise<string[]> {
  const entries = await readdir(folder, { recursive: true, withFileTypes: true });
  const lines = entries.map(async (one) => {
    const path = join(one.parentPath, one.name);
    return one.isFile() ? `${path}: ${await readFile(path, "utf8")}` : path;
  });
  return (await Promise.all(lines)).sort();
}

describe("refused", () => {
  it.each([
    ["a file", "file", "OUT_NOT_OURS"],
    ["a path through a file", "file/r", "OUT_NOT_WRITABLE"],
    ["a path through an input", "lawn.geojson/r", "OUT_NOT_WRITABLE"],
    ["an input", "lawn.geojson", "OUT_NOT_OURS"],
    ["the folder of the input", ".", "OUT_NOT_OURS"],
    ["a folder of somebody else", "foreign", "OUT_NOT_OURS"],
    ["a link to a file", "to-file", "OUT_NOT_OURS"],
    ["a link to a folder of somebody else", "to-foreign", "OUT_NOT_OURS"],
    ["a link that leads nowhere", "to-nowhere", "OUT_NOT_OURS"],
    ["a path by way of a link that leads nowhere", "to-nowhere/r", "OUT_NOT_OURS"],
    ["a link to itself", "to-itself", "OUT_NOT_WRITABLE"],
    ["a name too long", "x".repeat(300), "OUT_NOT_WRITABLE"],
    ["the root of the file system", "/", "OUT_NOT_OURS"],
    ["a result with a link for a file", "linked", "OUT_NOT_OURS"],
  ])("%s", async (_, out, code) => {
    const cwd = await siteFolder();
    await writeFile(join(cwd, "file"), "mine");
    await mkdir(join(cwd, "foreign"));
    await writeFile(join(cwd, "foreign/notes.txt"), "mine");
    await symlink("file", join(cwd, "to-file"));
    await symlink("foreign", join(cwd, "to-foreign"));
    await symlink("nowhere", join(cwd, "to-nowhere"));
    await symlink("to-itself", join(cwd, "to-itself"));
    await mkdir(join(cwd, "linked"));
    await writeFile(join(cwd, "elsewhere.json"), '{"tool": "pegline"}');
    await symlink("../elsewhere.json", join(cwd, "linked/summary.json"));
    const before = await content(cwd);
    const path = resolve(cwd, out);
    await expect(claimFolder(path, [join(cwd, "lawn.geojson")])).rejects.toMatchObject({
      problem: { code, file: path, message: expect.stringContaining("nothing was written") },
    });
    expect(await content(cwd)).toEqual(before);
  });

  it("a result that is an input of the command", async () => {
    const cwd = await siteFolder();
    expect((await pegline(planLawn("small", "r"), { cwd })).code).toBe(0);
    const before = await content(cwd);
    const ran = await pegline(["plan", "r/plan.geojson", "--out", "r", "--json"], { cwd });
    expect(ran.code).toBe(2);
    expect(ran.json().error.code).toBe("OUT_HOLDS_INPUT");
    expect(await content(cwd)).toEqual(before);
  });

  it.each([
    ["a folder that may only be read", "r", "r"],
    ["a new folder where nothing may be made", "r", "r/new"],
  ])("%s", async (_, locked, out) => {
    const cwd = await siteFolder();
    const mayRun = !IS_ROOT || (await pegline(["--version"], { uid: NOBODY })).code === 0;
    if (!mayRun) return console.log("skipped: this checkout is closed to other users");
    await chmod(cwd, 0o755);
    await mkdir(join(cwd, locked));
    await chmod(join(cwd, locked), 0o555);
    const before = await content(cwd);
    const error = await refused(cwd, out, IS_ROOT ? { uid: NOBODY } : {});
    expect(error.code).toBe("OUT_NOT_WRITABLE");
    expect(await content(cwd)).toEqual(before);
    await chmod(join(cwd, locked), 0o755);
  });

  it("a full disk: OUT_DISK_FULL, the old result stays; with room again it is replaced", async () => {
    const cwd = await siteFolder();
    const disk = join(cwd, "disk");
    await mkdir(disk);
    if (!mounted(disk)) return console.log("skipped: no small disk can be mounted here");
    expect((await pegline(planLawn("small", "disk/r"), { cwd })).code).toBe(0);
    const before = await content(join(disk, "r"));
    const filler = join(disk, "filler");
    await writeFile(filler, new Uint8Array(20_000_000)).catch((error) => {
      expect(error.code).toBe("ENOSPC");
    });
    expect((await refused(cwd, "disk/r")).code).toBe("OUT_DISK_FULL");
    expect((await refused(cwd, "disk/new")).code).toBe("OUT_DISK_FULL");
    expect(await content(join(disk, "r"))).toEqual(before);
    expect((await readdir(disk)).sort()).toEqual(["filler", "r"]);
    await rm(filler);
    expect((await pegline(planLawn("large", "disk/r"), { cwd })).code).toBe(0);
    expect(await content(join(disk, "r"))).not.toEqual(before);
  });

  it("a disk itself may be the folder, and a disk that can only be read is refused", async () => {
    const cwd = await siteFolder();
    const disk = join(cwd, "disk");
    await mkdir(disk);
    if (!mounted(disk)) return console.log("skipped: no small disk can be mounted here");
    for (const profile of ["small", "large"]) {
      expect((await pegline(planLawn(profile, "disk"), { cwd })).code).toBe(0);
      expect(await readdir(disk)).toEqual(RESULT_FILES);
    }
    const before = await content(disk);
    execFileSync("mount", ["-o", "remount,ro", disk]);
    expect(await refused(cwd, "disk")).toMatchObject({
      code: "OUT_NOT_WRITABLE",
      message: expect.stringContaining("EROFS"),
    });
    expect((await refused(cwd, "disk/new")).code).toMatch(/^OUT_/);
    expect(await content(disk)).toEqual(before);
  });
});

/** A disk of a megabyte in memory, taken away after the test; false where that is not allowed. */
function mounted(path: string): boolean {
  try {
    execFileSync("mount", ["-t", "tmpfs", "-o", "size=12m", "tmpfs", path], { stdio: "ignore" });
  } catch {
    return false;
  }
  onTestFinished(() => {
    execFileSync("umount", ["-l", path]);
  });
  return true;
}

it("two commands at once write one result whole; one that is refused says why", async () => {
  const cwd = await siteFolder();
  for (let round = 0; round < 3; round++) {
    const ran = await Promise.all(
      ["small", "large"].map((profile) => pegline([...planLawn(profile, "r"), "--json"], { cwd })),
    );
    for (const one of ran.filter(({ code }) => code !== 0)) {
      expect(one.code).toBe(2);
      expect(one.json().error.code).toBe("OUT_BUSY");
    }
    const written = ran.filter(({ code }) => code === 0).map((one) => one.json());
    expect(written.length).toBeGreaterThan(0);
    const now = JSON.parse(await readFile(join(cwd, "r/summary.json"), "utf8"));
    expect(written).toContainEqual(now);
    expect((await readdir(cwd)).sort()).toEqual(["lawn.geojson", "r"]);
    expect(await readdir(join(cwd, "r"))).toEqual(RESULT_FILES);
  }
});

describe("where no folder is named", () => {
  it.each([
    ["...geojson", "plan"],
    [".hidden.geojson", "hidden"],
    ["-rf.geojson", "rf"],
    ["con.geojson", "_con"],
    ["a\u001b[31m:b.geojson", "a_[31m_b"],
    ["lawn", "lawn-plan"],
  ])("an input named %j is planned into %s", async (name, folder) => {
    const cwd = await siteFolder();
    const text = await readFile(join(cwd, "lawn.geojson"));
    await rm(join(cwd, "lawn.geojson"));
    await writeFile(join(cwd, name), text);
    const ran = await pegline(["plan", `./${name}`], { cwd });
    expect(ran.code).toBe(0);
    // biome-ignore lint/suspicious/noControlCharactersInRegex: what must not be there
    expect(ran.stdout + ran.stderr).not.toMatch(/[\u0000-\u0009\u000b-\u001f]/);
    expect((await readdir(cwd)).sort()).toEqual([name, folder].sort());
  });
});
