/** Real plots: planned and measured, or refused with a code. What is what there is the program's own reading. */
import { existsSync, readdirSync } from "node:fs";
import { readFile } from "node:fs/promises";
import { describe, expect, it } from "vitest";
import { type Attempt, attempt, judgeWritten, truthAsRead } from "../support/planning.ts";

const PLOTS = new URL("../fixtures/plots/", import.meta.url);
/** More of the same, where a copy lies beside the work tree. */
const MORE = new URL("../../../shared/data/plots/", import.meta.url);

const here = readdirSync(PLOTS)
  .filter((name) => name.endsWith(".geojson"))
  .map((name) => [name, new URL(name, PLOTS)] as const);
const more = (existsSync(MORE) ? readdirSync(MORE) : [])
  .filter((name) => name.endsWith(".geojson") && !here.some(([known]) => known === name))
  .map((name) => [name, new URL(name, MORE)] as const);

async function judged(name: string, at: URL): Promise<Attempt> {
  const input = { name, bytes: await readFile(at) };
  const made = await attempt([input]);
  if (!made.ok) return made;
  const { breaches, figures } = judgeWritten(made, await truthAsRead([input]));
  expect(breaches.slice(0, 5)).toEqual([]);
  expect(figures.wireM).toBeGreaterThan(10);
  return made;
}

describe("real plots", () => {
  it.each(here)("%s is planned and every measurement holds", async (name, at) => {
    expect(await judged(name, at)).toMatchObject({ ok: true });
  });

  it.skipIf(more.length === 0).each(more)(
    "%s is planned, or refused with a code",
    async (name, at) => {
      const made = await judged(name, at);
      if (!made.ok) {
        expect(made.problem).toMatchObject({
          kind: "input",
          code: expect.stringMatching(/^[A-Z_]+$/),
        });
        expect(made.problem.remedy).not.toBe("");
      }
    },
  );
});
