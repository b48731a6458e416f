import { describe, expect, it } from "vitest";
import { CHROMIUM, NO_CHROMIUM, openPage, pageOf } from "./open-page.ts";

/** Names as an attacker would choose them. */
const NAMES = [
  '</script><script>document.title="taken"</script>',
  '<img src=x onerror="document.title=1">',
  "<!--<script>",
  "{{constructor.constructor('document.title=2')()}}",
  "\u202eturned\u2066",
  "__proto__",
];

const degrees = 1 / 111_320;
const ring = (east: number, north: number, side: number) =>
  [
    [0, 0],
    [side, 0],
    [side, side],
    [0, side],
    [0, 0],
  ].map(([e, n]) => [(east + e!) * degrees, (north + n!) * degrees]);

const feature = (name: string, role: string, east: number, north: number, side: number) => ({
  type: "Feature",
  properties: { name, role },
  geometry: { type: "Polygon", coordinates: [ring(east, north, side)] },
});

const site = {
  type: "FeatureCollection",
  features: [
    feature("Lawn </title><b>", "lawn", 0, 0, 40),
    ...NAMES.map((name, i) =>
      feature(name, "bed", 4 + 12 * (i % 3), 6 + 16 * (i >> 1 > 1 ? 1 : 0) + (i % 2) * 2, 3),
    ),
  ],
};
const html = await pageOf([
  {
    name: 'x"><script>alert(1)<b>.geojson',
    bytes: new TextEncoder().encode(JSON.stringify(site)),
  },
]);

describe.skipIf(CHROMIUM === undefined)(`hostile names${NO_CHROMIUM}`, () => {
  it("are shown as text on every panel, and none acts", async () => {
    const { page, complaints } = await openPage(html);
    const ids = await page.evaluate(() => {
      const { shapes } = JSON.parse(document.getElementById("pegline-model")!.textContent!);
      return shapes.filter((one: { kind: string }) => one.kind === "thing").length;
    });
    expect(ids).toBeGreaterThan(3);
    const tabs = page.getByRole("tab");
    for (let i = 0; i < (await tabs.count()); i++) await tabs.nth(i).click();
    await page.locator(".map").focus();
    const heads: string[] = [];
    for (let i = 0; i < 30; i++) {
      await page.keyboard.press("n");
      heads.push((await page.locator(".card h2").textContent()) ?? "");
    }
    expect(heads.join("\n")).toContain(NAMES[0]!);
    expect(heads.join("\n")).toContain(NAMES[1]!);
    expect(heads.join("\n")).not.toMatch(/[\u202e\u2066]/u);
    expect(await page.locator("img, #app script").count()).toBe(0);
    expect(await page.title()).toContain("<script>alert(1)<b>");
    expect(complaints).toEqual([]);
  });
});
