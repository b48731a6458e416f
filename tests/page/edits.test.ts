/** Replanning in a real browser: the wire follows, and the command plans the same from what is saved. */
import { mkdir, mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import type { Download, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { LonLat, PointM } from "../../src/model/geometry.ts";
import type { Edit } from "../../src/page/edits/edit.ts";
import { PlanningSession } from "../../src/page/worker/session.ts";
import { packSource } from "../../src/page/worker/source.ts";
import { pegline } from "../cli/run.ts";
import { at, GARDEN, OF, PAVING, SOURCE } from "../edits/garden.ts";
import { faults } from "./axe-faults.ts";
import { CHROMIUM, NO_CHROMIUM, type Opened, openPage, pageOf } from "./open-page.ts";

const ROSES = 'Roses <b>&"';

describe.skipIf(CHROMIUM === undefined)(`replanning in Chromium${NO_CHROMIUM}`, () => {
  let opened: Opened;
  let page: Page;
  let home: string;

  beforeAll(async () => {
    const html = await pageOf([GARDEN, PAVING], {}, { job: packSource(SOURCE) });
    opened = await openPage(html);
    page = opened.page;
    home = await mkdtemp(join(tmpdir(), "pegline-edits-"));
    for (const file of [GARDEN, PAVING]) {
      await mkdir(dirname(join(home, file.name)), { recursive: true });
      await writeFile(join(home, file.name), file.bytes);
    }
    await page.getByRole("tab", { name: "Change" }).click();
    await state("Nothing changed");
  }, 60_000);
  afterAll(() => rm(home, { recursive: true, force: true }));

  const state = (text: string) =>
    page
      .locator(".edit-state")
      .filter({ hasText: new RegExp(`^${text}$`) })
      .waitFor({ timeout: 30_000 });

  async function saved(button: string): Promise<Buffer> {
    const [download] = (await Promise.all([
      page.waitForEvent("download"),
      page.getByRole("button", { name: button, exact: true }).click(),
    ])) as [Download, unknown];
    return readFile(await download.path());
  }

  /** Steps over the map by key until something of this name is selected. */
  async function select(name: string): Promise<void> {
    await page.locator(".map").focus();
    for (let i = 0; i < 60; i++) {
      await page.keyboard.press("n");
      const text = await page.locator(".card h2").textContent();
      if (text?.includes(name) && !text.includes("loop")) return;
    }
    throw new Error(`${name} was not found by stepping`);
  }

  /** Metres to pixels of the page, from what the status line says of two places. */
  async function places() {
    await page.getByRole("button", { name: "Show all" }).click();
    await page.waitForTimeout(1000);
    const box = (await page.locator(".map").boundingBox())!;
    const read = async (x: number, y: number) => {
      await page.mouse.move(x, y);
      await page.waitForTimeout(500);
      const text = (await page.locator(".status").textContent()) ?? "";
      const [e, n] = [...text.matchAll(/-?\d+\.\d+/g)].map(([one]) => Number(one));
      return [e!, n!] as const;
    };
    const [ax, ay, bx, by] = [
      box.x + box.width * 0.3,
      box.y + box.height * 0.3,
      box.x + box.width * 0.7,
      box.y + box.height * 0.7,
    ];
    const [a, b] = [await read(ax, ay), await read(bx, by)];
    const scale = (bx - ax) / (b[0] - a[0]);
    return ([e, n]: readonly [number, number]) =>
      [ax + (e - a[0]) * scale, ay - (n - a[1]) * scale] as const;
  }

  /** A site file without comments and trailing commas. */
  const plain = (siteFile: string) =>
    JSON.parse(siteFile.replace(/\/\*.*?\*\/|\/\/.*$/gm, "").replace(/,(\s*[}\]])/g, "$1"));

  /** What the page saves is what the command plans from it, to the last byte. */
  async function sameAsCommand(): Promise<string> {
    const siteFile = (await saved("Site file")).toString();
    const plan = await saved("Plan (GeoJSON)");
    const summary = await saved("Summary (JSON)");
    await writeFile(join(home, "pegline.json"), siteFile);
    const ran = await pegline(["plan", "pegline.json", "--out", "out", "--quiet"], { cwd: home });
    expect([0, 1], ran.stderr).toContain(ran.code);
    expect((await readFile(join(home, "out/plan.geojson"))).equals(plan)).toBe(true);
    expect((await readFile(join(home, "out/summary.json"))).equals(summary)).toBe(true);
    return siteFile;
  }

  it("a bed moved by numbers and by keys, a tree made soft, a hostile name; saved, the command plans the same", async () => {
    await select(ROSES);
    const east = page.locator('input[name="east"]');
    await east.fill(String(Number(await east.inputValue()) + 1.5));
    await east.press("Enter");
    await state("1 change");
    await page.getByRole("button", { name: "Move things and the station" }).click();
    await page.locator(".map").focus();
    await page.keyboard.press("ArrowUp");
    await page.keyboard.press("Shift+ArrowRight");
    await state("3 changes");
    await page.getByRole("button", { name: "Move things and the station" }).click();
    await select("tree");
    await page.locator('select[name="contact"]').selectOption("yes");
    await state("4 changes");
    expect(await page.locator(".edit-changes .changed").count()).toBeGreaterThan(1);
    const siteFile = await sameAsCommand();
    expect(siteFile).toContain('"move_m": [2.5, 0.1]');
    expect(siteFile).toContain("// measured");
    // The same edits in Node: the wire of the page is that of the command to the millimetre.
    const edits: Edit[] = [
      { edit: "move", of: OF.roses, byM: [2.5, 0.1] },
      { edit: "set", of: OF.oak, set: { loop: "yes" } },
    ];
    const same = await new PlanningSession(SOURCE).plan(edits);
    if (!same.ok) throw new Error(same.problem.message);
    const wireM = same.value.result.quantities.totals.wireM;
    const { totals } = JSON.parse(await readFile(join(home, "out/summary.json"), "utf8"));
    expect(Math.abs(totals.wire_m - wireM)).toBeLessThan(0.001);
  });

  it("undo and redo by buttons and keys lead back to the first plan", async () => {
    await page.locator(".map").focus();
    for (const _ of [1, 2, 3, 4]) await page.keyboard.press("Control+z");
    await state("Nothing changed");
    expect((await saved("Site file")).toString()).toBe(SOURCE.siteFile.text);
    await page.getByRole("button", { name: "Redo", exact: true }).click();
    await state("1 change");
    await page.keyboard.press("Control+Shift+z");
    await state("2 changes");
    await page.getByRole("button", { name: "Undo", exact: true }).click();
    await page.getByRole("button", { name: "Undo", exact: true }).click();
    await state("Nothing changed");
  });

  async function firstPlan() {
    const first = await new PlanningSession(SOURCE).plan([]);
    if (!first.ok) throw new Error(first.problem.message);
    return first.value.result;
  }

  it("the station dragged stays on the edge, and a drag is one change", async () => {
    const { plan } = await firstPlan();
    const [loop] = plan.loops;
    const [e, n] = loop!.station.atM;
    const toPixel = await places();
    const [x, y] = toPixel([e, n]);
    const [tx, ty] = toPixel([e - 6, n + 1.5]);
    await page.getByRole("button", { name: "Move things and the station" }).click();
    await page.mouse.move(x, y);
    await page.mouse.down();
    for (let i = 1; i <= 8; i++) {
      await page.mouse.move(x + ((tx - x) * i) / 8, y + ((ty - y) * i) / 8);
    }
    await page.mouse.up();
    await state("1 change");
    const siteFile = await sameAsCommand();
    const { station } = plain(siteFile);
    expect(station.name).toBe("Shed");
    const stood = plan.grid.forward(station.at);
    expect(Math.abs(stood[0] - (e - 6))).toBeLessThan(0.6);
    await page.keyboard.press("Control+z");
    await state("Nothing changed");
  });

  it("a bed reshaped by its corners: dragged, put in, by keys and taken out; a drag is one change", async () => {
    await select(ROSES);
    await page.getByRole("button", { name: "Reshape on the map" }).click();
    const toPixel = await places();
    const { grid } = (await firstPlan()).plan;
    const local = ([e, n]: readonly [number, number]) =>
      grid.forward(at(e, n) as unknown as LonLat);
    // The roses lie from 8 to 11 metres either way. A corner, then the middle of an edge.
    for (const [from, to] of [
      [
        [11, 11],
        [12.5, 12],
      ],
      [
        [8, 9.5],
        [6.5, 9.5],
      ],
    ] as const) {
      const [[x, y], [tx, ty]] = [toPixel(local(from)), toPixel(local(to))];
      await page.mouse.move(x, y);
      await page.mouse.down();
      for (let i = 1; i <= 6; i++) {
        await page.mouse.move(x + ((tx - x) * i) / 6, y + ((ty - y) * i) / 6);
      }
      await page.mouse.up();
      await state(from[0] === 11 ? "1 change" : "2 changes");
    }
    const corner = page.locator(".edit-corner");
    expect(await corner.textContent()).toMatch(/^Corner \d of 5$/);
    await page.locator(".map").focus();
    for (let i = 0; i < 5; i++) await page.keyboard.press(".");
    const east = page.locator('input[name="corner-east"]');
    const before = Number(await east.inputValue());
    await page.locator(".map").focus();
    // Quicker than the planner: each goes on from the one before.
    for (const key of ["Shift+ArrowLeft", "ArrowLeft", "ArrowLeft"]) await page.keyboard.press(key);
    await state("5 changes");
    expect(Number(await east.inputValue())).toBeCloseTo(before - 1.2, 3);
    await page.keyboard.press("Insert");
    await state("6 changes");
    expect(await corner.textContent()).toMatch(/of 6$/);
    await page.keyboard.press("Delete");
    await state("7 changes");
    expect(await corner.textContent()).toMatch(/of 5$/);
    const siteFile = await sameAsCommand();
    const { features } = plain(siteFile);
    const [ring] = features.find((one: { id?: string }) => one.id === "bed/7").geometry.coordinates;
    expect(ring).toHaveLength(6);
    const corners: PointM[] = ring.slice(1).map((one: [number, number]) => grid.forward(one));
    // Dragged by pixels of some 5 cm.
    for (const [e, n] of [
      [8, 8],
      [11, 8],
      [12.5, 12],
      [8, 11],
      [5.3, 9.5],
    ] as const) {
      const [x, y] = local([e, n]);
      const offM = Math.min(...corners.map((one) => Math.hypot(one[0] - x, one[1] - y)));
      expect(offM, `${e}, ${n}`).toBeLessThan(0.15);
    }
    await page.locator(".map").focus();
    for (let i = 0; i < 7; i++) await page.keyboard.press("Control+z");
    await state("Nothing changed");
    await page.locator('.tools button[data-tool="reshape"]').click();
  });

  it("the field of parts shows what the site file says", async () => {
    const parts = page.locator('select[name="parts"]');
    expect(await parts.inputValue()).toBe("");
    await parts.selectOption("carried");
    await state("1 change");
    await expect.poll(() => parts.inputValue()).toBe("carried");
    expect(plain(await sameAsCommand()).parts).toBe("carried");
    await page.getByRole("button", { name: "Undo", exact: true }).click();
    await state("Nothing changed");
    await expect.poll(() => parts.inputValue()).toBe("");
  });

  it("beds and ground without wire drawn on the map and by numbers; an edge and a set-in", async () => {
    await page.locator('select[name="draw-what"]').selectOption("bed");
    await page.getByRole("button", { name: "Draw on the map" }).click();
    const toPixel = await places();
    for (const at of [
      [-10, 5],
      [-7, 5],
      [-7, 8],
    ] as const) {
      const [x, y] = toPixel(at);
      await page.mouse.click(x, y);
      await page.waitForTimeout(300);
    }
    const [x, y] = toPixel([-7, 8]);
    await page.mouse.click(x, y);
    await state("1 change");
    await page.locator('select[name="draw-what"]').selectOption("no-wire");
    await page.locator('input[name="draw-east"]').fill("2");
    await page.locator('input[name="draw-north"]').fill("-3");
    await page.getByRole("button", { name: "Add", exact: true }).press("Enter");
    await state("2 changes");
    await page.getByRole("button", { name: "Next stretch" }).press("Enter");
    await page.locator('select[name="edge-kind"]').selectOption("wall");
    await page.locator('input[name="edge-setin"]').fill("0.5");
    await page.getByRole("button", { name: "Apply" }).click();
    await state("3 changes");
    await page.locator('select[name="profile"]').selectOption("medium");
    await state("4 changes");
    const siteFile = await sameAsCommand();
    for (const key of ['"things"', '"run_ground"', '"edges"', '"medium"']) {
      expect(siteFile).toContain(key);
    }
  });

  it.each(["light", "dark"] as const)(
    "axe-core finds no fault on the panel, with a corner taken and something changed: %s",
    async (colorScheme) => {
      await page.emulateMedia({ colorScheme });
      await select(ROSES);
      await page.getByRole("button", { name: "Next corner" }).click();
      expect(await page.locator(".edit-corner").textContent()).toBe("Corner 1 of 4");
      expect(await page.locator(".edit-changes").count()).toBe(1);
      expect(await faults(page)).toEqual([]);
    },
  );

  it("the planner starts while the page lies idle, before anything is asked of it", async () => {
    const html = await pageOf([GARDEN, PAVING], {}, { job: packSource(SOURCE) });
    const idle = await openPage(html);
    await expect.poll(() => idle.page.workers().length).toBe(1);
    await idle.page.context().close();
  });

  it("the page saves itself, and opens with what was changed; nothing is complained of", async () => {
    const html = (await saved("This page")).toString();
    const again = await openPage(html);
    await again.page.getByRole("tab", { name: "Change" }).click();
    const unchanged = again.page.locator(".edit-state").filter({ hasText: /^Nothing changed$/ });
    await unchanged.waitFor({ timeout: 30_000 });
    await again.page.context().close();
    // A hint of Chromium's about speed, at the map library's way of finding what lies under a finger.
    const isHint = (text: string) => /^warning: Canvas2D: Multiple readback/.test(text);
    const complaints = [...opened.complaints, ...again.complaints].filter((one) => !isHint(one));
    expect(complaints).toEqual([]);
  });
});
