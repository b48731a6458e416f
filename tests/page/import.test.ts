import { readFile } from "node:fs/promises";
import { describe, expect, it } from "vitest";
import { planInputs } from "../../src/jobs/pegline.ts";
import type { InputFile } from "../../src/model/features.ts";
import { planPage } from "../../src/page/html/plan-page.ts";
import { pageModel } from "../../src/page/model/build-model.ts";
import { sortedFiles } from "../../src/page/model/sorted-files.ts";
import { sourceWith } from "../../src/page/worker/imported.ts";
import { PlanningSession } from "../../src/page/worker/session.ts";
import { type PageSource, packSource } from "../../src/page/worker/source.ts";
import { parseJsonText } from "../../src/sitefile/json-text.ts";
import { faults } from "./axe-faults.ts";
import { assets, CHROMIUM, demoInput, NO_CHROMIUM, openPage } from "./open-page.ts";

const bytesOf = (text: string) => new TextEncoder().encode(text);
const file = (name: string, text = name): InputFile => ({ name, bytes: bytesOf(text) });
const garden = await demoInput();

const SOURCE: PageSource = {
  siteFile: {
    name: "pegline.json",
    text: `{
  // the machine of the house
  "profile": "small",
  "inputs": ["house-garden.geojson"],
  "station": { "at": [-28.5, 47.25] },
  "lawns": ["Front"],
  "prices": { "currency": "EUR" }
}
`,
  },
  files: { inputs: [garden] },
  epsg: [],
};

/** A bed of 2 m × 2 m in the demo garden's lawn, and a lawn of 20 m × 12 m elsewhere, by degrees. */
function square(role: string, lon: number, lat: number, eastM: number, northM: number): string {
  // Lengths of a degree at 47.25° N on WGS 84 (series of the meridian and parallel, Snyder 1987).
  const [lonDeg, latDeg] = [eastM / 75_700, northM / 111_180];
  const ring = [
    [lon, lat],
    [lon + lonDeg, lat],
    [lon + lonDeg, lat + latDeg],
    [lon, lat + latDeg],
    [lon, lat],
  ];
  return JSON.stringify({
    type: "FeatureCollection",
    features: [
      {
        type: "Feature",
        properties: { role, name: "<i>Drawn</i>" },
        geometry: { type: "Polygon", coordinates: [ring] },
      },
    ],
  });
}

function parsed(text: string): unknown {
  const json = parseJsonText(text);
  return Array.isArray(json) ? json : json.value;
}

const BED = file("new-bed.geojson", square("bed", -28.4999, 47.2501, 1.5, 1.5));
const LAWN = file("meadow.geojson", square("lawn", -28.6, 47.3, 20, 12));

describe("files told apart", () => {
  it("a shapefile is one with its parts, whatever the case; others stand alone", () => {
    const { inputs, leftOver, plan } = sortedFiles([
      file("Lawn.SHP"),
      file("lawn.dbf"),
      file("LAWN.prj"),
      file("lawn.sbn"),
      file("beds.zip"),
      file("stray.dbf"),
      file("site.kml"),
    ]);
    expect(inputs.map(({ name }) => name)).toEqual(["Lawn.SHP", "beds.zip", "site.kml"]);
    expect(Object.keys(inputs[0]!.siblings!)).toEqual([".dbf", ".prj"]);
    expect([leftOver, plan]).toEqual([["stray.dbf"], []]);
  });

  it("a plan is to be compared, with its summary; a site is not", () => {
    const plan = file("plan.geojson", '{"features":[{"properties":{"kind": "boundary-wire"}}]}');
    const sorted = sortedFiles([plan, file("summary.json", "{}"), garden]);
    expect(sorted.plan.map(({ name }) => name)).toEqual(["plan.geojson", "summary.json"]);
    expect(sorted.inputs).toEqual([garden]);
    expect(sortedFiles([file("plan.html")]).plan).toHaveLength(1);
  });
});

describe("the site with other files", () => {
  const adding = { how: "add", roles: [], machine: "small" } as const;

  it("added: all that was said stays, comments too; a name that is taken is changed", () => {
    const made = sourceWith(SOURCE, [BED, garden], adding);
    expect(made.files.inputs.map(({ name }) => name)).toEqual([
      "house-garden.geojson",
      "new-bed.geojson",
      "house-garden-2.geojson",
    ]);
    expect(made.siteFile.text).toContain("// the machine of the house");
    expect(made.siteFile.text).toContain('"station"');
    expect(made.siteFile.text.replace(/\s/g, "")).toContain(
      '"inputs":["house-garden.geojson","new-bed.geojson","house-garden-2.geojson"]',
    );
  });

  it("replaced: machine and prices stay, what is about the old site goes", () => {
    const rules = [{ layer: "meadow", role: "lawn" }] as const;
    const made = sourceWith(SOURCE, [LAWN], { ...adding, how: "replace", roles: rules });
    expect(parsed(made.siteFile.text)).toEqual({
      profile: "small",
      prices: { currency: "EUR" },
      inputs: ["meadow.geojson"],
      roles: [{ layer: "meadow", role: "lawn" }],
    });
    const bare = sourceWith(undefined, [LAWN], { ...adding, how: "replace" });
    expect(bare.siteFile.text).toContain('"profile": "small"');
  });

  it("gives the plan that the command makes of the same files", async () => {
    const source = {
      ...SOURCE,
      siteFile: { name: "pegline.json", text: '{ "inputs": ["house-garden.geojson"] }' },
    };
    const made = sourceWith(source, [BED], adding);
    const [here, there] = [
      await new PlanningSession(made).plan([]),
      await planInputs([garden, BED]),
    ];
    if (!here.ok || !there.ok) throw new Error("not planned");
    const { loops } = here.value.result.plan;
    expect(loops.map(({ wire }) => [...wire])).toEqual(
      there.value.plan.loops.map(({ wire }) => [...wire]),
    );
    expect(loops.flatMap((one) => one.exclusionLoops).length).toBeGreaterThan(4);
  });
});

describe.skipIf(CHROMIUM === undefined)(`files brought to the page${NO_CHROMIUM}`, () => {
  const upload = ({ name, bytes }: InputFile, mimeType = "application/octet-stream") => ({
    name,
    mimeType,
    buffer: Buffer.from(bytes),
  });

  it("are read, shown with their roles, added or planned as another site; trouble is told", async () => {
    const outcome = await planInputs([garden]);
    if (!outcome.ok) throw new Error(outcome.problem.message);
    const source = {
      ...SOURCE,
      siteFile: { name: "pegline.json", text: '{ "inputs": ["house-garden.geojson"] }' },
    };
    const html = planPage(outcome.value, {}, await assets(), { job: packSource(source) });
    const { page, complaints } = await openPage(html);
    await page.getByRole("tab", { name: "Files" }).click();
    const panel = page.locator("#panel-import");
    const choose = (...files: InputFile[]) =>
      panel.locator("input[type=file]").setInputFiles(files.map((one) => upload(one)));
    const wait = { timeout: 20_000 };

    await choose(file("broken.geojson", "{"));
    await expect.poll(() => panel.getByRole("alert").textContent(), wait).toContain("JSON_BROKEN");

    await choose(BED);
    await expect.poll(() => panel.locator("select").count(), wait).toBe(1);
    expect(await faults(page)).toEqual([]);
    expect(await panel.locator("option:checked").textContent()).toBe("as read: bed");
    const wire = page.locator("#panel-plan .totals dd").first();
    const before = outcome.value.quantities.totals.wireM;
    await panel.getByRole("button", { name: "Add to this site" }).click();
    await expect.poll(() => wire.isVisible(), wait).toBe(true);
    expect(Number.parseFloat((await wire.textContent())!)).toBeGreaterThan(before + 3);
    expect(await page.locator("h1").textContent()).toBe("house-garden");

    // A file by its name and bytes falls onto the page.
    const dropped = await page.evaluateHandle(
      ({ name, text }) => {
        const transfer = new DataTransfer();
        transfer.items.add(new File([text], name));
        return transfer;
      },
      { name: LAWN.name, text: new TextDecoder().decode(LAWN.bytes) },
    );
    await page.dispatchEvent(".map", "dragover", { dataTransfer: dropped });
    expect(await page.locator(".drop-over").isVisible()).toBe(true);
    await page.dispatchEvent(".map", "drop", { dataTransfer: dropped });
    await panel.getByRole("button", { name: "Plan as another site" }).click(wait);
    await expect.poll(() => page.locator("h1").textContent(), wait).toBe("meadow");
    const alone = await planInputs([LAWN]);
    if (!alone.ok) throw new Error(alone.problem.message);
    const { totals } = pageModel(alone.value);
    expect(Number.parseFloat((await wire.textContent())!)).toBeCloseTo(totals.wireM, 1);
    expect(complaints).toEqual([]);
  });

  it("a zipped shapefile is read as the command reads it", async () => {
    const [first] = await zippedShapefile();
    if (!first) return;
    const outcome = await planInputs([garden]);
    if (!outcome.ok) throw new Error(outcome.problem.message);
    const { page, complaints } = await openPage(planPage(outcome.value, {}, await assets()));
    await page.getByRole("tab", { name: "Files" }).click();
    const panel = page.locator("#panel-import");
    await panel.locator("input[type=file]").setInputFiles([upload(first)]);
    const wait = { timeout: 20_000 };
    await expect.poll(() => panel.locator("legend").count(), wait).toBe(1);
    expect(await panel.locator("legend").textContent()).toContain(first.name);
    // The file holds no job: there is nothing to add to.
    expect(await panel.getByRole("button", { name: "Add to this site" }).count()).toBe(0);
    expect(complaints).toEqual([]);
  });
});

async function zippedShapefile(): Promise<InputFile[]> {
  const name = "house-garden-shapefile.zip";
  const bytes = await readFile(`fixtures/demo/${name}`).catch(() => undefined);
  return bytes ? [{ name, bytes: new Uint8Array(bytes) }] : [];
}
