import geodesic from "geographiclib-geodesic";
import type { Page } from "playwright-core";
import { describe, expect, it } from "vitest";
import { CHROMIUM, demoInput, NO_CHROMIUM, openPage, pageOf } from "./open-page.ts";

const html = await pageOf([await demoInput()]);
const desk = { viewport: { width: 1200, height: 800 } };

/** What the status line says of the pointer: metres in the grid, degrees. */
async function pointer(page: Page) {
  const text = (await page.locator(".status").textContent())!;
  const [, east, north] = /E (-?[\d.]+) m\s+N (-?[\d.]+) m/.exec(text)!;
  const [, lat, latSide, lon, lonSide] = /([\d.]+)° ([NS])\s+([\d.]+)° ([EW])/.exec(text)!;
  return {
    at: [Number(east), Number(north)] as const,
    lat: Number(lat) * (latSide === "S" ? -1 : 1),
    lon: Number(lon) * (lonSide === "W" ? -1 : 1),
  };
}

describe.skipIf(CHROMIUM === undefined)(`the map${NO_CHROMIUM}`, () => {
  it("measures a distance as the geodesic between the degrees that it shows", async () => {
    const { page } = await openPage(html, desk);
    // Off everything that a click could catch.
    const from = [120, 300] as const;
    const to = [690, 640] as const;
    await page.mouse.move(...from);
    const a = await pointer(page);
    await page.mouse.move(...to);
    const b = await pointer(page);
    await page.getByRole("button", { name: "Measure a distance" }).click();
    await page.mouse.click(...from);
    await page.mouse.click(...to);
    const read = Number.parseFloat((await page.locator(".hint .figure").textContent())!);
    const grid = Math.hypot(b.at[0] - a.at[0], b.at[1] - a.at[1]);
    expect(Math.abs(read - grid)).toBeLessThan(0.02);
    // geographiclib-geodesic (Karney 2013); degrees are shown to 1 cm.
    const { s12 } = geodesic.Geodesic.WGS84.Inverse(a.lat, a.lon, b.lat, b.lon);
    expect(s12).toBeGreaterThan(20);
    expect(Math.abs(read - s12!)).toBeLessThan(0.03);
  });

  it("the scale bar is as long as it says", async () => {
    const { page } = await openPage(html, desk);
    const text = (await page.locator(".scale-bar").textContent())!;
    const lengthM = Number(/(\d+(?:\.\d+)?) m$/.exec(text)![1]);
    const { width } = (await page.locator(".scale-row").boundingBox())!;
    await page.mouse.move(200, 400);
    const a = await pointer(page);
    await page.mouse.move(600, 400);
    const b = await pointer(page);
    const perPx = (b.at[0] - a.at[0]) / 400;
    expect(Math.abs(width * perPx - lengthM)).toBeLessThan(0.02 * lengthM);
  });

  it("an area is measured by keyboard alone", async () => {
    const { page } = await openPage(html, desk);
    const map = page.locator(".map");
    await page.getByRole("button", { name: "Measure an area" }).press("Enter");
    await map.focus();
    const corners: (readonly [number, number])[] = [];
    for (const key of ["ArrowLeft", "ArrowUp", "ArrowRight"]) {
      for (let i = 0; i < 2; i++) {
        await page.keyboard.press(key);
        await page.waitForTimeout(150);
      }
      corners.push((await pointer(page)).at);
      await page.keyboard.press("Enter");
    }
    const [p, q, r] = corners as [
      readonly [number, number],
      readonly [number, number],
      readonly [number, number],
    ];
    const doubled = (q[0] - p[0]) * (r[1] - p[1]) - (r[0] - p[0]) * (q[1] - p[1]);
    const read = Number.parseFloat((await page.locator(".hint .figure").textContent())!);
    expect(read).toBeGreaterThan(1);
    // Points snap to corners within 9 pixels, of some 6 cm here.
    expect(Math.abs(read - Math.abs(doubled) / 2)).toBeLessThan(0.15 * read);
    expect(await page.locator("[role=status]").textContent()).toContain("m²");
    await page.keyboard.press("Escape");
    await page.keyboard.press("Escape");
    expect(await page.locator(".hint").isHidden()).toBe(true);
  });

  it("shows the pointer's place in the inputs' own system", async () => {
    const steps = [-100, 0, 100];
    const system = {
      name: "EPSG:99999 invented",
      isDegrees: false,
      centre: [0, 0] as const,
      reachM: 100,
      nodes: steps.flatMap((n) => steps.map((e) => [40_000 + e, 70_000 + n] as const)),
    };
    const { page } = await openPage(await pageOf([await demoInput()], {}, { system }), desk);
    await page.mouse.move(400, 300);
    const { at } = await pointer(page);
    const text = (await page.locator(".status").textContent())!;
    const [, x, y] = /EPSG:99999\s+([\d.]+)\s+([\d.]+)/.exec(text)!;
    expect(Number(x)).toBeCloseTo(40_000 + at[0], 1);
    expect(Number(y)).toBeCloseTo(70_000 + at[1], 1);
  });

  it("says what the pointer is at, and holds it when clicked", async () => {
    const { page } = await openPage(html, desk);
    const house = await placeOnScreen(page, [-0.5, 0]);
    await page.mouse.move(...house);
    await expect.poll(() => page.locator(".tip").textContent()).toMatch(/^Building House/);
    await page.mouse.click(...house);
    await expect.poll(() => page.locator(".card h2").textContent()).toBe("Building House");
    expect(await page.locator(".card dl").textContent()).toMatch(/Area\d+\.\d m²/);
  });

  it("switches layers: without lawn, things and areas nothing is there to point at", async () => {
    const { page } = await openPage(html, desk);
    await page.getByRole("tab", { name: "Map" }).click();
    for (const name of ["Things on the site", "Lawn", "Mown, trimmed and cut off"]) {
      await page.getByRole("checkbox", { name }).uncheck();
    }
    const house = await placeOnScreen(page, [-0.5, 0]);
    await page.mouse.click(...house);
    await page.waitForTimeout(400);
    expect(await page.locator(".card").isHidden()).toBe(true);
  });

  it("a picture lies where its corners say, under the drawing", async () => {
    // One red cell (PNG), from 10 m west to 5 m west and from 20 m to 15 m north: no plan there.
    const red =
      "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAIAAACQd1PeAAAADElEQVR4nGP4z8AAAAMBAQDJ/pLvAAAAAElFTkSuQmCC";
    const picture = {
      name: "red",
      url: `data:image/png;base64,${red}`,
      toGrid: [5, 0, 0, -5, -25, 20] as const,
    };
    const { page, complaints } = await openPage(
      await pageOf([await demoInput()], {}, { picture }),
      desk,
    );
    const colourAt = async (east: number, north: number) => {
      const [x, y] = await placeOnScreen(page, [east, north]);
      return page.evaluate(colourOnMap, [x, y] as [number, number]);
    };
    await expect.poll(async () => (await colourAt(-22.5, 17.5))[0]! > 200).toBe(true);
    const [r, g, b] = await colourAt(-20.2, 15.2);
    // A veil of white lies over it.
    expect(r! - g!).toBeGreaterThan(100);
    expect(g).toBe(b);
    expect(await colourAt(-19.8, 15.2)).toEqual([0, 0, 0, 0]);
    expect(await colourAt(-20.2, 14.8)).toEqual([0, 0, 0, 0]);
    // The test itself reads the canvas back, of which the browser warns.
    expect(complaints.filter((one) => !one.includes("willReadFrequently"))).toEqual([]);
  });

  it("shows the device's position with its accuracy, and how far off it is", async () => {
    // The demo garden's origin: 47.25019° N, 28.4998573° W as its status line says.
    const { page, complaints } = await openPage(html, {
      ...desk,
      permissions: ["geolocation"],
      geolocation: { latitude: 47.25019, longitude: -28.499857, accuracy: 4 },
    });
    await page.getByRole("button", { name: "My position" }).click();
    await expect.poll(() => page.locator(".hint").textContent()).toContain("Within 4.00 m");
    const [, east, north] = /E (-?[\d.]+) m, N (-?[\d.]+) m/.exec(
      (await page.locator(".hint").textContent())!,
    )!;
    expect(Math.abs(Number(east))).toBeLessThan(0.1);
    expect(Math.abs(Number(north))).toBeLessThan(0.1);
    await page.context().setGeolocation({ latitude: 48, longitude: -28.5, accuracy: 20 });
    await expect
      .poll(() => page.locator(".hint").textContent())
      .toMatch(/You are 83\d\d\d\.\d\d m/);
    await page.getByRole("button", { name: "My position" }).click();
    expect(await page.locator(".hint").isHidden()).toBe(true);
    expect(complaints).toEqual([]);
  });
});

/** Where a place of the site grid is on the screen, by the pointer's own readings. */
async function placeOnScreen(page: Page, [east, north]: readonly [number, number]) {
  await page.mouse.move(200, 300);
  const a = await pointer(page);
  await page.mouse.move(600, 500);
  const b = await pointer(page);
  const perM = [400 / (b.at[0] - a.at[0]), 200 / (b.at[1] - a.at[1])] as const;
  const place = [200 + (east - a.at[0]) * perM[0], 300 + (north - a.at[1]) * perM[1]] as const;
  return place;
}

/** Runs in the page: the topmost colour of the map at a place of the screen; transparent where there is none. */
function colourOnMap([x, y]: [number, number]): number[] {
  let colour = [0, 0, 0, 0];
  for (const canvas of document.querySelectorAll<HTMLCanvasElement>(".map canvas")) {
    const box = canvas.getBoundingClientRect();
    const at = [x - box.left, y - box.top].map((one) => Math.round(one * devicePixelRatio));
    const found = [...canvas.getContext("2d")!.getImageData(at[0]!, at[1]!, 1, 1).data];
    if (found[3]! > 0) colour = found;
  }
  return colour;
}
