import { describe, expect, it } from "vitest";
import { CHROMIUM, demoInput, NO_CHROMIUM, openPage, pageOf } from "./open-page.ts";

/** The bar for a garden without a picture, bytes. */
const SIZE_MAX = 2_500_000;

const html = await pageOf([await demoInput()]);

describe("plan.html as a file", () => {
  it("is small enough to be sent", () => {
    expect(Buffer.byteLength(html)).toBeLessThan(SIZE_MAX);
  });

  it("names nothing that could be fetched", () => {
    const markup = html.replace(/<script[\s\S]*?<\/script>|<style>[\s\S]*?<\/style>/g, "");
    expect(markup.match(/(?:src|href)="(?!data:)[^"]*"/g)).toBeNull();
    expect(/url\(|@import|@font-face/.test(html.match(/<style>([\s\S]*?)<\/style>/)![1]!)).toBe(
      false,
    );
    expect(html).toContain("default-src &#39;none&#39;");
    expect(html).not.toContain("connect-src &#39;");
  });
});

describe.skipIf(CHROMIUM === undefined)(`plan.html in Chromium${NO_CHROMIUM}`, () => {
  it("opens from a file with the network off, and the browser complains of nothing", async () => {
    const { page, complaints } = await openPage(html);
    expect(await page.title()).toBe("house-garden: boundary wire");
    await expect.poll(() => page.locator(".map canvas").count()).toBeGreaterThan(0);
    // Ink on the map: the blue of the wire is among its colours.
    expect(await page.evaluate(hasWireBlue)).toBe(true);
    await page.getByRole("tab", { name: "Map" }).click();
    await page.getByRole("button", { name: "Zoom in" }).click();
    expect(complaints).toEqual([]);
  });

  it("obeys its policy: a script that is not its own does not run (the check can fail)", async () => {
    const foreign = html.replace(
      '<div id="app">',
      '<script>document.title = "taken"</script><div id="app">',
    );
    expect(foreign).not.toBe(html);
    const { page, complaints } = await openPage(foreign);
    expect(await page.title()).toBe("house-garden: boundary wire");
    expect(complaints.join()).toContain("Content Security Policy");
  });

  it("takes a lawn, a thing and a peg by a click, and shows their figures", async () => {
    const { page } = await openPage(html);
    await page.locator(".map").focus();
    await page.keyboard.press("n");
    await expect.poll(() => page.locator(".card h2").textContent()).toBe("Station A");
    const figures = await page.locator(".card dl").textContent();
    expect(figures).toContain("0°");
  });
});

/** Runs in the page. */
function hasWireBlue(): boolean {
  const canvases = [...document.querySelectorAll<HTMLCanvasElement>(".map canvas")];
  return canvases.some((canvas) => {
    const { data } = canvas.getContext("2d")!.getImageData(0, 0, canvas.width, canvas.height);
    for (let i = 0; i < data.length; i += 4) {
      if (data[i] === 0x00 && data[i + 1] === 0x72 && data[i + 2] === 0xb2) return true;
    }
    return false;
  });
}
