import type { BrowserContextOptions } from "playwright-core";
import { describe, expect, it } from "vitest";
import { CATALOGUE } from "../../src/page/words/catalogue.ts";
import { faults } from "./axe-faults.ts";
import { CHROMIUM, demoInput, NO_CHROMIUM, openPage, pageOf } from "./open-page.ts";

const html = await pageOf([await demoInput()]);
const SCREENS: Record<string, BrowserContextOptions> = {
  "desk, light": { viewport: { width: 1440, height: 900 } },
  "desk, dark": { viewport: { width: 1440, height: 900 }, colorScheme: "dark" },
  "phone, high contrast, dark": {
    viewport: { width: 390, height: 844 },
    contrast: "more",
    colorScheme: "dark",
    hasTouch: true,
  },
};

describe.skipIf(CHROMIUM === undefined)(`for everyone${NO_CHROMIUM}`, () => {
  it("axe-core finds faults where there are some (the check can fail)", async () => {
    const { page } = await openPage(html);
    await page.evaluate(() => document.body.append(document.createElement("button")));
    expect((await faults(page)).join()).toContain("button-name");
  });

  it.each(Object.keys(SCREENS))("no panel has a fault that axe-core knows: %s", async (screen) => {
    const { page } = await openPage(html, SCREENS[screen]!);
    const tabs = page.getByRole("tab");
    const found: string[] = [];
    for (let i = 0; i < (await tabs.count()); i++) {
      await tabs.nth(i).click();
      found.push(...(await faults(page)));
    }
    await page.locator(".map").focus();
    await page.keyboard.press("n");
    found.push(...(await faults(page)));
    expect([...new Set(found)]).toEqual([]);
  });

  it("every control is reached by Tab and arrows, in each panel", async () => {
    const { page } = await openPage(html, { viewport: { width: 1280, height: 800 } });
    const count = await page.getByRole("tab").count();
    await page.getByRole("tab", { name: "Plan" }).focus();
    for (let i = 0; i < count; i++) {
      const left = await page.evaluate(markControls);
      expect(left).toBeGreaterThan(3);
      for (let k = 0; k < left + 4; k++) {
        await page.keyboard.press("Tab");
        await page.evaluate(() => document.activeElement?.setAttribute("data-met", ""));
      }
      const unmet = await page.evaluate(() =>
        [...document.querySelectorAll("[data-control]:not([data-met])")].map((one) =>
          one.outerHTML.slice(0, 120),
        ),
      );
      expect(unmet).toEqual([]);
      await page.locator('[role="tab"][aria-selected="true"]').focus();
      await page.keyboard.press("ArrowRight");
    }
    // The tools are one stop; arrows go through them.
    const tools = page.locator(".tool");
    await tools.first().focus();
    for (let i = 1; i < (await tools.count()); i++) {
      await page.keyboard.press("ArrowDown");
      expect(await tools.nth(i).evaluate((one) => one === document.activeElement)).toBe(true);
    }
  });

  it("the map is moved and stepped through by keys, and says what it comes to", async () => {
    const { page } = await openPage(html);
    const status = () => page.locator(".status").textContent();
    await page.locator(".map").focus();
    const before = await status();
    await page.keyboard.press("ArrowRight");
    await expect.poll(status).not.toBe(before);
    await page.keyboard.press("n");
    const live = page.locator("[role=status]");
    await expect.poll(() => live.textContent()).toMatch(/^Station A/);
    await page.keyboard.press("n");
    await expect.poll(() => live.textContent()).toMatch(/^Station B/);
    await page.keyboard.press("b");
    await expect.poll(() => live.textContent()).toMatch(/^Station A/);
    await page.keyboard.press("Escape");
    expect(await page.locator(".card").isHidden()).toBe(true);
  });

  it("wears the system's colours where they are forced", async () => {
    const { page, complaints } = await openPage(html, { forcedColors: "active" });
    expect(await page.getAttribute("html", "data-look")).toBe("forced");
    expect(complaints).toEqual([]);
  });

  it("nothing is wider than a phone of 320 pixels", async () => {
    const { page } = await openPage(html, { viewport: { width: 320, height: 640 } });
    const tabs = page.getByRole("tab");
    for (let i = 0; i < (await tabs.count()); i++) {
      await tabs.nth(i).click();
      const over = await page.evaluate(() => {
        const wide = [...document.querySelectorAll<HTMLElement>(".panels, .panel:not([hidden])")];
        const isWide = wide.some((one) => one.scrollWidth > one.clientWidth + 1);
        return isWide || document.documentElement.scrollWidth > innerWidth;
      });
      expect([await tabs.nth(i).textContent(), over]).toEqual([expect.anything(), false]);
    }
  });
});

describe("words", () => {
  it("German has placeholders as English has them, and no text is empty", () => {
    // A placeholder ends or goes on with a comma; a word of a plural's text does neither.
    const slots = (text: string) => [...new Set(text.match(/\{\w+(?=[,}])/g) ?? [])].sort();
    const { en, de } = CATALOGUE;
    expect(Object.keys(de).sort()).toEqual(Object.keys(en).sort());
    for (const key of Object.keys(en) as (keyof typeof en)[]) {
      expect([key, slots(de[key])]).toEqual([key, slots(en[key])]);
      expect(de[key].trim(), key).not.toBe("");
    }
  });
});

/** Runs in the page: marks every control that can be used now and is a stop of the Tab key. */
function markControls(): number {
  for (const one of document.querySelectorAll("[data-control]")) {
    one.removeAttribute("data-control");
    one.removeAttribute("data-met");
  }
  const all = document.querySelectorAll<HTMLElement>(
    "button, input, select, summary, a[href], [tabindex='0']",
  );
  let count = 0;
  for (const one of all) {
    const isShown = one.checkVisibility({ visibilityProperty: true });
    const isRoving = one.tabIndex < 0 && one.closest("[role=tablist], [role=toolbar]") !== null;
    if (!isShown || isRoving || (one as HTMLButtonElement).disabled) continue;
    one.setAttribute("data-control", "");
    count++;
  }
  return count;
}
