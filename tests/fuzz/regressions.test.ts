/** Files that earlier runs of the fuzzer failed on: read soon, with coded answers alone. */
import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { readCase } from "./run-case.ts";
import { TARGETS } from "./targets.ts";

const FOLDER = "tests/fuzz/regressions";
const files = readdirSync(FOLDER).filter((name) => !name.endsWith(".md"));

/** The target whose seeds have that ending first. */
function targetOf(ending: string) {
  return TARGETS.find((target) => Object.keys(target.seeds()[0]!)[0] === ending);
}

describe("files that once failed", () => {
  it.each(files)("%s", async (name) => {
    const ending = name.slice(name.lastIndexOf("."));
    const target = targetOf(ending);
    if (target === undefined) throw new Error(`no target reads ${ending}`);
    const parts = { [ending]: new Uint8Array(readFileSync(`${FOLDER}/${name}`)) };
    for (const plan of [false, true]) {
      const result = await readCase(target, { parts, plan });
      expect(result).toHaveProperty("reached");
    }
  });

  it("each has its line in the list", () => {
    const list = readFileSync(`${FOLDER}/README.md`, "utf8");
    expect(files.filter((name) => !list.includes(`\`${name}\``))).toEqual([]);
  });
});
