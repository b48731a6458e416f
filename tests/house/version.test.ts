import { readFile } from "node:fs/promises";
import { expect, it } from "vitest";
import { VERSION } from "../../src/version.ts";

it("the version that results carry is the package's", async () => {
  expect(VERSION).toBe(JSON.parse(await readFile("package.json", "utf8")).version);
});
