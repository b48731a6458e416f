import { readFile } from "node:fs/promises";
import { resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { describe, expect, it } from "vitest";
import type * as Library from "../../src/index.ts";
import { importsOf } from "../house/source-files.ts";
import { demo, emptyFolder, pegline } from "./run.ts";

const library: typeof Library = await import(pathToFileURL(resolve("dist/index.js")).href);

describe("the built library", () => {
  it("plans the demo garden to the same files as the command line", async () => {
    const path = demo("house-garden.geojson");
    const outcome = await library.planInputs([{ name: path, bytes: await readFile(path) }]);
    if (!outcome.ok) throw new Error(outcome.problem.message);
    const { summary, files } = library.planFiles(outcome.value);
    expect(files.map((file) => file.name)).toEqual(["plan.geojson", "summary.json"]);
    const cwd = await emptyFolder();
    const cli = await pegline(["plan", path, "--json"], { cwd });
    expect(JSON.parse(JSON.stringify(summary))).toEqual(cli.json());
  });

  it("returns a problem as a value, with code and remedy", async () => {
    const outcome = await library.planInputs([{ name: "x.geojson", bytes: new Uint8Array() }]);
    expect(outcome).toMatchObject({ ok: false, problem: { code: "FILE_EMPTY", kind: "input" } });
  });

  it("asks for nothing but its own dependencies", async () => {
    const { dependencies } = JSON.parse(await readFile("package.json", "utf8"));
    const packages = importsOf(await readFile("dist/index.js", "utf8")).map((specifier) =>
      specifier
        .split("/")
        .slice(0, specifier.startsWith("@") ? 2 : 1)
        .join("/"),
    );
    expect(packages.length).toBeGreaterThan(3);
    expect(packages.filter((name) => !(name in dependencies))).toEqual([]);
  });
});
