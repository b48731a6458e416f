import { copyFile, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { emptyFolder } from "../cli/run.ts";
import { serve } from "../cli/served.ts";
import { CHROMIUM, NO_CHROMIUM, theBrowser } from "./open-page.ts";

const GARDEN = "house-garden.geojson";

describe.skipIf(CHROMIUM === undefined)(`the page as pegline open serves it${NO_CHROMIUM}`, () => {
  it("follows the files: new plan in place, trouble told, the last good plan kept", async () => {
    const cwd = await emptyFolder();
    const file = join(cwd, GARDEN);
    await copyFile(`fixtures/demo/${GARDEN}`, file);
    const { address, stop } = await serve([GARDEN], cwd);
    const page = await (await (await theBrowser()).newContext()).newPage();
    const complaints: string[] = [];
    page.on("console", (message) => complaints.push(`${message.type()}: ${message.text()}`));
    page.on("pageerror", (error) => complaints.push(`thrown: ${error.message}`));
    page.on("request", (request) => {
      const url = request.url();
      if (!url.startsWith(address) && !/^(data|blob):/.test(url)) complaints.push(url);
    });
    await page.goto(address);
    await page.locator("html[data-ready]").waitFor({ state: "attached" });
    await page.locator(".map").focus();
    await page.keyboard.press("n");
    await expect.poll(() => page.locator(".card h2").textContent()).toBe("Station A");
    const wire = page.locator(".totals dd").first();
    const before = await wire.textContent();
    const good = await readFile(file, "utf8");

    await writeFile(file, good.slice(0, 300));
    const strip = page.getByRole("alert");
    await expect.poll(() => strip.textContent(), { timeout: 15_000 }).toContain("JSON_BROKEN");
    expect(await strip.textContent()).toContain(GARDEN);
    expect(await wire.textContent()).toBe(before);

    const bare = JSON.parse(good);
    bare.features = bare.features.filter((one: { properties: { role?: string } }) =>
      ["lawn", undefined].includes(one.properties.role),
    );
    await writeFile(file, JSON.stringify(bare));
    await expect.poll(() => wire.textContent(), { timeout: 15_000 }).not.toBe(before);
    expect(await strip.isVisible()).toBe(false);
    expect(await page.locator(".card h2").textContent()).toBe("Station A");
    expect(complaints).toEqual([]);

    // It may ask its own server alone.
    const foreign = await page.evaluate(() =>
      fetch("http://127.0.0.1:9/").then(
        () => "answered",
        (error: Error) => error.message,
      ),
    );
    expect(foreign).toContain("Failed to fetch");
    expect(complaints.join()).toContain("connect-src 'self'");
    await stop("SIGINT");
    await expect
      .poll(() => page.getByText("has ended").isVisible(), { timeout: 15_000 })
      .toBe(true);
  });
});
