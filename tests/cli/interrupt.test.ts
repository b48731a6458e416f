import { spawn } from "node:child_process";
import { readdir } from "node:fs/promises";
import { join, resolve } from "node:path";
import { expect, it } from "vitest";
import { demo, emptyFolder } from "./run.ts";

/** Starts a plan, interrupts it after a while as Ctrl-C does, and waits for its end. */
function interrupted(cwd: string, afterMs: number): Promise<void> {
  const args = [resolve("dist/cli/pegline.js"), "plan", demo("house-garden.geojson"), "--quiet"];
  const child = spawn(process.execPath, args, { cwd, stdio: "ignore" });
  const timer = setTimeout(() => child.kill("SIGINT"), afterMs);
  return new Promise((done) => {
    child.on("close", () => {
      clearTimeout(timer);
      done();
    });
  });
}

it("Ctrl-C leaves a whole result or none, and nothing beside it", async () => {
  for (let afterMs = 60; afterMs <= 460; afterMs += 40) {
    const cwd = await emptyFolder();
    await interrupted(cwd, afterMs);
    const names = await readdir(cwd);
    expect([[], ["house-garden"]]).toContainEqual(names);
    if (names.length > 0)
      expect(await readdir(join(cwd, "house-garden"))).toEqual(["plan.geojson", "summary.json"]);
  }
});
