import { readdir, readFile } from "node:fs/promises";
import { expect, it } from "vitest";

it("licences of all that is bundled are in the notices, with their texts", async () => {
  const notices = await readFile("dist/THIRD-PARTY-LICENCES.txt", "utf8");
  const blocks = notices.split(/^={80}\n(?=\S.*\nLicence: )/m).slice(1);
  const named = blocks.map((block) => block.slice(0, block.lastIndexOf(" ", block.indexOf("\n"))));
  // The maps beside the code, not the bundler's word, say what went into it.
  const maps = (await readdir("dist/cli", { recursive: true })).filter((one) =>
    one.endsWith(".map"),
  );
  const sources = await Promise.all(
    maps.map(
      async (map) => JSON.parse(await readFile(`dist/cli/${map}`, "utf8")).sources as string[],
    ),
  );
  const bundled = sources
    .flat()
    .filter((source) => source.includes("node_modules/"))
    .map(
      (source) =>
        /^(?:@[^/]+\/)?[^/]+/.exec(source.slice(source.lastIndexOf("node_modules/") + 13))![0],
    );
  expect(bundled.length).toBeGreaterThan(20);
  expect([...new Set(bundled)].filter((name) => !named.includes(name))).toEqual([]);
  for (const block of blocks) expect(block.length, block.slice(0, 60)).toBeGreaterThan(500);
});
