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

/** The targets whose seeds have that ending first; those of `.prj` alone leave the shapes as they are. */
function targetsOf(ending: string) {
  return TARGETS.filter(
    (target) => Object.keys(target.seeds()[0]!)[0] === ending && target.id !== "prj",
  );
}

describe("files that once failed", () => {
  it.each(files)("%s", async (name) => {
    const ending = name.slice(name.lastIndexOf("."));
    const targets = targetsOf(ending);
    expect(targets.length, `targets that read ${ending}`).toBeGreaterThan(0);
    const stem = name.slice(0, -ending.length);
    const beside = all.filter((other) => isPart(other) && other.startsWith(`${stem}.`));
    const parts = Object.fromEntries(
      [name, ...beside].map((one) => [
        one.slice(one.lastIndexOf(".")),
        new Uint8Array(readFileSync(`${FOLDER}/${one}`)),
      ]),
    );
    for (const target of targets) {
      for (const plan of [false, true]) {
        const result = await readCase(target, { parts, plan });
        expect(result, target.id).toHaveProperty("reached");
      }
    }
  });

  it("each has its line in the list", () => {
    const list = readFileSync(`${FOLDER}/README.md`, "utf8");
    expect(all.filter((name) => !list.includes(`\`${name}\``))).toEqual([]);
  });
});
