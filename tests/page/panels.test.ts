import { describe, expect, it } from "vitest";
import { handOverFiles } from "../../src/export/hand-over/hand-over-files.ts";
import { summaryOf } from "../../src/export/summary.ts";
import { planInputs } from "../../src/jobs/pegline.ts";
import { planPage } from "../../src/page/html/plan-page.ts";
import { assets, CHROMIUM, demoInput, NO_CHROMIUM, openPage } from "./open-page.ts";

const outcome = await planInputs([await demoInput()]);
if (!outcome.ok) throw new Error(outcome.problem.message);
const result = outcome.value;
const html = planPage(result, {}, await assets());
const summary = summaryOf(result);
const handOver = await handOverFiles(result);
const fileText = (name: string) => handOver.files.find((one) => one.name === name)!.text;
const words = (text: string) => text.replace(/\s+/g, " ");

describe.skipIf(CHROMIUM === undefined)(`panels${NO_CHROMIUM}`, () => {
  it("the plan has the figures of the summary, and every caution", async () => {
    const { page } = await openPage(html);
    const text = words((await page.locator("#panel-plan").textContent())!);
    const { totals } = summary;
    expect(text).toContain(`Wire to lay${totals.wire_m.toFixed(2)} m`);
    expect(text).toContain(`Wire to buy${totals.wire_to_buy_m.toFixed(2)} m`);
    expect(text).toContain(`Mown${totals.mown_m2.toFixed(1)} m²`);
    for (const loop of summary.loops) expect(text).toContain(`${loop.length_m.toFixed(2)} m`);
    expect(summary.cautions.length).toBeGreaterThan(3);
    for (const caution of summary.cautions) expect(text).toContain(caution.text);
  });

  it("the walk goes by every peg of the wire, with the sentences of the guide, and ends at its length", async () => {
    const { page } = await openPage(html);
    const guide = words(fileText("guide.txt"));
    await page.getByRole("tab", { name: "Laying" }).click();
    const slider = page.locator(".walk-slider");
    const loop = result.plan.loops[0]!;
    // Pegs of pairs are passed twice; the station comes again at the end.
    const passings = loop.pegs.reduce(
      (sum, peg) => sum + (peg.secondChainageM === undefined ? 1 : 2),
      1,
    );
    expect(await slider.getAttribute("max")).toBe(String(passings - 1));
    const seen: string[] = [];
    for (let i = 0; i < 12; i++) {
      seen.push((await page.locator(".walk-peg").textContent())!);
      for (const step of await page.locator(".walk-step").allTextContents()) {
        expect(guide).toContain(words(step));
      }
      await page.getByRole("button", { name: "Next peg" }).click();
    }
    expect(seen).toEqual(loop.pegs.slice(0, 12).map(({ number }) => number));
    await slider.focus();
    await page.keyboard.press("End");
    const length = `${loop.lengthM.toFixed(2)} m`;
    expect(await page.locator(".walk-along").textContent()).toBe(`${length} of ${length} laid`);
    expect(await page.locator(".walk-step.close").count()).toBe(1);
    await page.getByRole("button", { name: "Loop B" }).click();
    expect(await page.locator(".walk-peg").textContent()).toBe("B1");
  });

  it("every step of the guide that lays wire is met on the walk", async () => {
    const { pageModel } = await import("../../src/page/model/build-model.ts");
    const { guide, walks } = pageModel(result);
    for (const walk of walks) {
      const met = new Set(walk.stops.flatMap(({ steps }) => steps));
      const { steps } = guide.sections[walk.section]!;
      expect([...steps.keys()].filter((i) => !met.has(i))).toEqual([]);
      const laid = walk.stops.map(({ chainageM }) => chainageM);
      expect([...laid].sort((a, b) => a - b)).toEqual(laid);
    }
  });

  it("the list of pegs is gone through by keyboard, makes only rows in sight, and follows the map", async () => {
    const { page } = await openPage(html);
    await page.getByRole("tab", { name: "Pegs" }).click();
    const grid = page.getByRole("grid", { name: "Pegs" });
    const { pegs } = summary.totals;
    expect(await grid.getAttribute("aria-rowcount")).toBe(String(pegs + 1));
    expect(await grid.locator(".rows .row").count()).toBeLessThan(60);
    await grid.focus();
    await page.keyboard.press("ArrowDown");
    await page.keyboard.press("ArrowDown");
    const chosen = grid.locator('[aria-selected="true"]');
    expect(await chosen.locator("span").first().textContent()).toBe("A2");
    await expect.poll(() => page.locator(".card h2").textContent()).toBe("Peg A2");
    await page.keyboard.press("End");
    const last = result.plan.loops.at(-1)!.pegs.at(-1)!.number;
    await expect.poll(() => chosen.locator("span").first().textContent()).toBe(last);
    expect(await grid.getAttribute("aria-activedescendant")).toBe(await chosen.getAttribute("id"));
    // Back from the map: the middle of the map lies on that peg.
    await page.getByRole("button", { name: "Close", exact: true }).click();
    expect(await chosen.count()).toBe(0);
    await page.waitForTimeout(400);
    await page.locator(".map").focus();
    await page.keyboard.press("Enter");
    await expect.poll(() => chosen.locator("span").first().textContent()).toBe(last);
  });

  it("passages and findings lead to their places", async () => {
    const { page } = await openPage(html);
    await page.getByRole("tab", { name: /^Passages/ }).click();
    const rows = page.getByRole("grid", { name: "Passages" }).locator(".rows .row");
    expect(await rows.count()).toBe(summary.passages.length);
    const first = summary.passages[0]!;
    expect(await rows.first().textContent()).toContain(`${first.width_m.toFixed(2)} m`);
    await rows.first().click();
    await expect.poll(() => page.locator(".card h2").textContent()).toBe(`Passage ${first.number}`);
    await page.getByRole("tab", { name: /^Findings/ }).click();
    expect(await page.locator(".finding").count()).toBe(summary.findings.length);
    await page.locator(".finding.warning .link").first().click();
    expect(await page.locator(".finding.chosen").count()).toBe(1);
    const warning = summary.findings.find(({ severity }) => severity === "warning")!;
    expect(await page.locator(".finding.chosen").textContent()).toContain(warning.message);
    expect(await page.locator(".card").isHidden()).toBe(true);
    await page.getByRole("tab", { name: "Plan" }).click();
    expect(await page.locator(".card").textContent()).toContain(warning.message);
  });

  it("materials are those of the list", async () => {
    const { page } = await openPage(html);
    await page.getByRole("tab", { name: "Materials" }).click();
    const text = await page.locator("#panel-materials").textContent();
    const [, wire] = fileText("materials.csv").split("\n");
    const toBuy = Number(wire!.split(",").at(-1));
    expect(toBuy).toBeGreaterThan(10);
    expect(text).toContain(`${toBuy.toFixed(2)} m`);
  });

  it("language and units are the reader's choice", async () => {
    const { page } = await openPage(html);
    await page.getByRole("tab", { name: "Map" }).click();
    await page.locator('select[name="units"]').selectOption("ft");
    await page.locator('select[name="language"]').selectOption("de");
    expect(await page.getAttribute("html", "lang")).toBe("de");
    await page.getByRole("tab", { name: "Verlegen" }).click();
    await page.getByRole("button", { name: "Nächster Nagel" }).click();
    // 0.951 m in feet and inches, to an eighth: 3 ft 1 3/8 in.
    expect(await page.locator(".walk-along").textContent()).toMatch(/^3 ft 1 \d\/\d in von /);
    expect(await page.locator(".walk-todo").textContent()).toContain("Zaun");
    await page.getByRole("tab", { name: "Plan" }).click();
    expect(await page.locator("#panel-plan").textContent()).toContain("Erdkabel");
  });
});
