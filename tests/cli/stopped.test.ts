import { spawn } from "node:child_process";
import { watch } from "node:fs";
import { open, readdir } from "node:fs/promises";
import { join, resolve } from "node:path";
import { describe, expect, it } from "vitest";
import { Stopped, stoppable } from "../../cli/signals.ts";
import { planLawn, RESULT_FILES, siteFolder } from "./lawn.ts";
import { pegline } from "./run.ts";

const BIN = resolve("dist/cli/pegline.js");
/** Numbers of signals are the same on every system (POSIX, kill); shells add 128. */
const SIGNALS = [
  ["SIGHUP", 129],
  ["SIGINT", 130],
  ["SIGTERM", 143],
] as const;

describe.each(SIGNALS)("%s", (signal, code) => {
  it(`asks work to stop where it looks, ends with ${code}, and is left alone afterwards`, async () => {
    const before = process.listenerCount(signal);
    const steps: string[] = [];
    const work = stoppable(async (checkStop) => {
      steps.push("begun");
      process.emit(signal, signal);
      await Promise.resolve();
      steps.push("not stopped yet");
      checkStop();
      steps.push("never");
    });
    await expect(work).rejects.toMatchObject({ exitCode: code });
    await expect(work).rejects.toBeInstanceOf(Stopped);
    expect(steps).toEqual(["begun", "not stopped yet"]);
    expect(process.listenerCount(signal)).toBe(before);
  });

  it("leaves a whole result or none, and nothing beside it", async () => {
    const cwd = await siteFolder();
    for (const [i, afterMs] of [1, 6].entries()) {
      const out = "r";
      const child = spawn(process.execPath, [BIN, ...planLawn(i === 0 ? "small" : "large", out)], {
        cwd,
        stdio: ["ignore", "ignore", "pipe"],
      });
      let errors = "";
      child.stderr.setEncoding("utf8").on("data", (text) => (errors += text));
      const watcher = watch(i === 0 ? cwd : join(cwd, out), () => {
        watcher.close();
        setTimeout(() => child.kill(signal), afterMs);
      });
      const end = await new Promise((done) => {
        child.on("close", (exit, by) => done(exit ?? by));
      });
      watcher.close();
      // Before and after writing the system's own way ends it; a shell tells it by the same number.
      expect([0, code, signal]).toContain(end);
      expect(errors).toBe("");
      expect((await readdir(cwd)).filter((name) => !/^(lawn\.geojson|r)$/.test(name))).toEqual([]);
      const names = await readdir(join(cwd, out)).catch(() => undefined);
      expect([undefined, RESULT_FILES]).toContainEqual(names);
      if (!names) await pegline(planLawn("small", out), { cwd });
    }
  });
});

describe("a stream that cannot be written", () => {
  it.each(["stdout", "stderr"] as const)(
    "%s closed by its reader: quiet, and the command ends as it would",
    async (closed) => {
      const cwd = await siteFolder();
      const child = spawn(process.execPath, [BIN, "inspect", "lawn.geojson", "--json"], { cwd });
      let errors = "";
      child.stderr.setEncoding("utf8").on("data", (text) => (errors += text));
      child[closed].destroy();
      if (closed === "stderr") child.stdout.resume();
      const code = await new Promise((done) => {
        child.on("close", done);
      });
      expect(code).toBe(0);
      expect(errors).not.toMatch(/EPIPE|^\s+at /m);
    },
  );

  it("stdout on a full disk: STDOUT_NOT_WRITABLE", async (context) => {
    const full = await open("/dev/full", "w").catch(() => undefined);
    if (!full) return context.skip("no /dev/full here");
    const child = spawn(process.execPath, [BIN, "profiles", "--json"], {
      stdio: ["ignore", full.fd, "pipe"],
    });
    let errors = "";
    child.stderr!.setEncoding("utf8").on("data", (text) => (errors += text));
    const code = await new Promise((done) => {
      child.on("close", done);
    });
    await full.close();
    expect(errors).toContain("STDOUT_NOT_WRITABLE");
    expect(code).toBe(2);
  });
});
