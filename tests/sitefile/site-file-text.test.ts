import { readFile } from "node:fs/promises";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readSiteFile } from "../../src/sitefile/read-site-file.ts";
import { siteFileText } from "../../src/sitefile/site-file-text.ts";

function accepted(text: string) {
  const outcome = readSiteFile(text, "pegline.json");
  if (!outcome.ok) throw new Error(outcome.problem.message);
  return outcome.value;
}

describe("a written site file", () => {
  const draft = (file: string, name: string, field: string, isPlain: boolean) => ({
    name: file,
    lawns: 1,
    inputs: [
      {
        file,
        format: "kml",
        extentM: [10, 20] as const,
        crs: name,
        layers: [
          {
            name,
            features: 1,
            geometries: { Polygon: 1 },
            roles: { lawn: 1 },
            because: `the tag ${field}`,
            isPlain,
            fields: [field],
          },
        ],
      },
    ],
  });

  it("is valid whatever files, layers and attributes are called", () => {
    const nasty = fc.oneof(
      fc.string({ minLength: 1, unit: "grapheme" }),
      fc.constantFrom('"', "*/", "//", "\n}", "\u2028", "a\r\nb", "__proto__", "\\", "{", "'"),
    );
    fc.assert(
      fc.property(nasty, nasty, nasty, fc.boolean(), (file, name, field, isPlain) => {
        const said = accepted(siteFileText(draft(file, name, field, isPlain)));
        expect(said.inputs).toEqual([file]);
        expect(said.roles).toEqual(isPlain ? [{ layer: name, role: "lawn" }] : []);
      }),
      { seed: 20, numRuns: 300 },
    );
  });

  it("stays valid when any of its comments is taken into use", () => {
    const text = siteFileText(draft("a.kml", "lawn", "name", true));
    const lines = text.split("\n");
    const keys = lines.flatMap((line, i) => (/^ +\/\/ (?:"|\{ ")/.test(line) ? [i] : []));
    const single = keys.filter(
      (i) => /,\s*$/.test(lines[i]!) && !/^ +\/\/ +"[^"]+": [^{["\d]/.test(lines[i]!),
    );
    expect(single.length).toBeGreaterThan(8);
    for (const i of single) {
      const key = /"(\w+)":/.exec(lines[i]!)?.[1] ?? "";
      const used = lines.map((line, k) => {
        if (k === i) return line.replace("// ", "");
        // A key that stands in the file already makes room.
        return new RegExp(`^  "${key}":.*,$`).test(line) ? "" : line;
      });
      accepted(used.join("\n"));
    }
  });
});

describe("docs/site-file.md", () => {
  it("shows only site files and parts of them that are accepted", async () => {
    const page = await readFile("docs/site-file.md", "utf8");
    const blocks = [...page.matchAll(/```jsonc\n([\s\S]*?)```/g)].map((match) => match[1]!);
    expect(blocks.length).toBeGreaterThan(2);
    for (const block of blocks) accepted(block.startsWith("{") ? block : `{${block}}`);
  });
});
