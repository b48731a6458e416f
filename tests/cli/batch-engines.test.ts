/** The filter under an engine that divides a stream and starts many: GNU parallel (the example of docs/batch.md). */
import { execFile, execFileSync } from "node:child_process";
import { mkdir, readFile, writeFile } from "node:fs/promises";
import { join, resolve } from "node:path";
import { promisify } from "node:util";
import { expect, it } from "vitest";
import { plotSheet } from "../bench/plot-sheet.mjs";
import { emptyFolder } from "./run.ts";

/** GNU parallel; other programs have the name too. PEGLINE_PARALLEL names one that lies elsewhere. */
const PARALLEL = process.env.PEGLINE_PARALLEL ?? "parallel";

function isGnuParallel(): boolean {
  try {
    return execFileSync(PARALLEL, ["--version"], { encoding: "utf8" }).startsWith("GNU parallel");
  } catch {
    return false;
  }
}

const isThere = isGnuParallel();

it.skipIf(!isThere)(
  `GNU parallel gives the same plans as one process${isThere ? "" : " (skipped: it is not installed)"}`,
  async () => {
    const cwd = await emptyFolder();
    const bin = join(cwd, "bin");
    await mkdir(bin);
    const start = `#!/bin/sh\nexec "${process.execPath}" "${resolve("dist/cli/pegline.js")}" "$@"\n`;
    await writeFile(join(bin, "pegline"), start, { mode: 0o755 });
    const { single } = plotSheet({ plots: 5, seed: 7, vertices: 40, islands: 1 });
    const texts = [1, 2, 3, 4, 5].map((number) => ({ name: `P${number}`, ...single(number) }));
    const sequence = texts.map((one) => `\u001e${JSON.stringify(one)}\n`).join("");
    await writeFile(join(cwd, "plots.geojsons"), sequence);
    // The command as the page has it; a small block makes several processes of five plots.
    const page = await readFile("docs/batch.md", "utf8");
    const command = /^parallel .*$/m.exec(page)?.[0];
    expect(command).toContain("pegline batch -");
    const script = command!
      .replace(/^parallel/, `"${PARALLEL}" --will-cite`)
      .replace(/--block \S+/, "--block 3k");
    const env = { PATH: `${bin}:${process.env.PATH}`, HOME: cwd };
    const run = promisify(execFile);
    await run("sh", ["-c", script], { cwd, env });
    await run("sh", ["-c", "pegline batch - < plots.geojsons > one.geojsons"], { cwd, env });
    const out = /> (\S+)$/.exec(command!)![1]!;
    const plansOf = async (name: string) =>
      (await readFile(join(cwd, name), "utf8"))
        .split("\u001e")
        .slice(1)
        .map((text) => JSON.parse(text));
    const [many, one] = [await plansOf(out), await plansOf("one.geojsons")];
    expect(many).toHaveLength(5);
    // Numbers count within a process; names tell plots apart.
    const numberless = (plans: { row: object; features: { properties: object }[] }[]) =>
      plans.map(({ row, features, ...rest }) => ({
        ...rest,
        row: { ...row, number: 0 },
        features: features.map((f) => ({ ...f, properties: { ...f.properties, plot_number: 0 } })),
      }));
    expect(numberless(many)).toEqual(numberless(one));
    const numbers = many.map((plan) => plan.row.number);
    expect(numbers.filter((number) => number === 1).length).toBeGreaterThan(1);
  },
  120_000,
);
