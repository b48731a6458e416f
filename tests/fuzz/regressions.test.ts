/** Files that earlier runs of the fuzzer failed on: read soon, with coded answers alone. */
import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { readCase } from "./run-case.ts";
import { TARGETS } from "./targets.ts";

const FOLDER = "tests/fuzz/regressions";
/** Files, without those that lie beside another as part of it. */
const all = readdirSync(FOLDER).filter((name) => !name.endsWith(".md"));
const isPart = (name: string) => name.endsWith(".prj");
const files = all.filter((name) => !isPart(name));

/** The target whose seeds have that ending first. */
function targetOf(ending: string) {
  return TARGETS.find((target) => Object.keys(target.seeds()[0]!)[0] === ending);
}

describe("files that once failed", () => {
  it.each(files)("%s", async (name) => {
    const ending = name.slice(name.lastIndexOf("."));
    const target = targetOf(ending);
    if (target === undefined) throw new Error(`no target reads ${ending}`);
    const stem = name.slice(0, -ending.length);
    const beside = all.filter((other) => isPart(other) && other.startsWith(`${stem}.`));
    const parts = Object.fromEntries(
      [name, ...beside].map((one) => [
        one.slice(one.lastIndexOf(".")),
        new Uint8Array(readFileSync(`${FOLDER}/${one}`)),
      ]),
    );
    for (const plan of [false, true]) {
      const result = await readCase(target, { parts, plan });
      expect(result).toHaveProperty("reached");
    }
  });

  it("each has its line in the list", () => {
    const list = readFileSync(`${FOLDER}/README.md`, "utf8");
    expect(all.filter((name) => !list.includes(`\`${name}\``))).toEqual([]);
  });
});
