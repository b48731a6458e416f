import { readdir, readFile } from "node:fs/promises";
import { describe, expect, it } from "vitest";

const scripts: Record<string, string> = JSON.parse(await readFile("package.json", "utf8")).scripts;
const pages = ["README.md", "DEVELOPERS.md", ...(await markdownUnder("docs"))];
const sources = [
  "cli/program.ts",
  ...(await readdir("cli/program")).map((one) => `cli/program/${one}`),
];
const program = (await Promise.all(sources.map((one) => readFile(one, "utf8")))).join("\n");

async function markdownUnder(folder: string): Promise<string[]> {
  const names = await readdir(folder, { recursive: true });
  return names.filter((name) => name.endsWith(".md")).map((name) => `${folder}/${name}`);
}

describe.each(pages)("%s", (page) => {
  it("names only npm scripts, commands and options that exist", async () => {
    const text = await readFile(page, "utf8");
    for (const [, name] of text.matchAll(/npm run ([a-z][a-z:-]*[a-z])/g))
      expect(scripts).toHaveProperty(name!);
    const code = [...text.matchAll(/^```[\s\S]*?^```/gm)].join("\n");
    for (const [, name] of code.matchAll(/^(?:npx )?pegline ([a-z]+)/gm))
      expect(program).toContain(`"${name} `);
    for (const [line] of code.matchAll(/^(?:npx )?pegline .*$/gm))
      for (const [option] of line.matchAll(/--[a-z]+/g)) expect(program).toContain(`"${option}`);
  });

  it("links only to pages that exist", async () => {
    const text = await readFile(page, "utf8");
    const missing: string[] = [];
    for (const [, link] of text.matchAll(/\]\((?!https?:|#)([^)#]+)[^)]*\)/g)) {
      const path = new URL(link!, new URL(page, "file:///root/")).pathname.replace("/root/", "");
      await readFile(path).catch(() => missing.push(path));
    }
    expect(missing).toEqual([]);
  });
});

it("README begins with the two commands of a fresh clone", async () => {
  const text = await readFile("README.md", "utf8");
  expect(text.slice(0, 1500)).toContain("npm ci && npm run demo");
  expect(text.slice(0, 1500)).toContain("npm ci && npm test");
});
