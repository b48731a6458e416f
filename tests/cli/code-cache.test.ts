import {
  cpSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import type { Script } from "node:vm";
import { afterEach, beforeEach, expect, it } from "vitest";
import { codeFolder, runBundled } from "../../cli/code-cache.ts";

let folder: string;

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "pegline-code-"));
  mkdirSync(join(folder, "chunks"));
  write(
    "main.js",
    `#!/usr/bin/env node\nconst { twice } = require("./chunks/twice.js");\nconst { posix } = require("node:path");\nexports.answer = twice(21) + posix.sep;\nexports.folder = __dirname;`,
  );
  write("chunks/twice.js", "exports.twice = function (x) { return 2 * x; };");
});

afterEach(() => rmSync(folder, { recursive: true }));

const write = (name: string, text: string | Buffer) => writeFileSync(join(folder, name), text);

/** Runs the bundle; which modules had code that V8 took, and which had none or none that it took. */
function run() {
  const scripts: { codePath: string; script: Script }[] = [];
  const value = runBundled(folder, "main.js", (codePath, script) =>
    scripts.push({ codePath, script }),
  );
  const taken = scripts.map(({ script }) => script.cachedDataRejected === false);
  return { value, scripts, taken };
}

function keep({ scripts }: ReturnType<typeof run>) {
  for (const { codePath, script } of scripts) {
    mkdirSync(dirname(codePath), { recursive: true });
    writeFileSync(codePath, script.createCachedData());
  }
}

it("runs a bundle with and without code compiled before, to the same end", () => {
  const first = run();
  expect(first.value).toEqual({ answer: "42/", folder });
  expect(first.taken).toEqual([false, false]);
  keep(first);
  const second = run();
  expect(second.value).toEqual(first.value);
  expect(second.taken).toEqual([true, true]);
});

it("compiles as usual where the code kept is of another text, cut short or no code at all", () => {
  keep(run());
  write("chunks/twice.js", "exports.twice = function (x) { return 2 * x + 100; };");
  expect(run()).toMatchObject({ value: { answer: "142/" }, taken: [true, false] });
  keep(run());
  const code = readFileSync(join(codeFolder(folder), "main.js.bin"));
  for (const broken of [code.subarray(0, code.length >> 1), Buffer.from("no code"), Buffer.of()]) {
    // In another place each time: V8 remembers what it compiled for a file.
    const before = folder;
    folder = mkdtempSync(join(tmpdir(), "pegline-code-"));
    cpSync(before, folder, { recursive: true });
    rmSync(before, { recursive: true });
    writeFileSync(join(codeFolder(folder), "main.js.bin"), broken);
    expect(run()).toMatchObject({ value: { answer: "142/" }, taken: [false, true] });
  }
});

it("finds the code of the built command line fit for this version of Node", async () => {
  const { Script } = await import("node:vm");
  const kept = readdirSync(codeFolder("dist/cli"));
  expect(kept).toContain("main.js.bin");
  const built = readdirSync("dist/cli", { recursive: true, encoding: "utf8" });
  for (const name of kept) {
    const source = built.find((one) => `${one.replace(/[\\/]/g, "-")}.bin` === name)!;
    const text = readFileSync(join("dist/cli", source), "utf8").replace(/^#!.*/, "");
    const head = "(function (exports, require, module, __filename, __dirname) { ";
    const cachedData = readFileSync(join(codeFolder("dist/cli"), name));
    const script = new Script(`${head}${text}\n})`, { cachedData });
    expect(script.cachedDataRejected, name).toBe(false);
  }
});
