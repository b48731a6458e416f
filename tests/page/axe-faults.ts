import { readFile } from "node:fs/promises";
import { createRequire } from "node:module";
import type { Page } from "playwright-core";

const AXE = await readFile(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

/** Faults of any weight that axe-core finds, `rule: what`. */
export async function faults(page: Page): Promise<string[]> {
  await page.evaluate(AXE);
  return page.evaluate(async () => {
    const { axe } = window as unknown as {
      axe: {
        run(): Promise<{ violations: { id: string; impact: string; nodes: { html: string }[] }[] }>;
      };
    };
    const { violations } = await axe.run();
    return violations.map(
      ({ id, impact, nodes }) => `${impact} ${id}: ${nodes[0]!.html.slice(0, 160)}`,
    );
  });
}
