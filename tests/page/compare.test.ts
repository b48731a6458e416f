import { describe, expect, it } from "vitest";
import { planFiles } from "../../src/export/plan-files.ts";
import { planInputs } from "../../src/jobs/pegline.ts";
import { planPage } from "../../src/page/html/plan-page.ts";
import { readOther } from "../../src/page/html/read-other.ts";
import { pageModel } from "../../src/page/model/build-model.ts";
import { comparePlans } from "../../src/page/model/compare-plans.ts";
import type { SeenPlan } from "../../src/page/model/page-data.ts";
import { placedAt } from "../../src/page/model/place-model.ts";
import { builtInProfile } from "../../src/profile/built-in.ts";
import { faults } from "./axe-faults.ts";
import { assets, CHROMIUM, demoInput, NO_CHROMIUM, openPage } from "./open-page.ts";

async function planned(profile: "small" | "medium" = "medium") {
  const outcome = await planInputs([await demoInput()], { profile: builtInProfile(profile) });
  if (!outcome.ok) throw new Error(outcome.problem.message);
  return outcome.value;
}

const result = await planned();
const other = await planned("small");
const [here, there] = [pageModel(result), pageModel(other)];
const filesOf = (made: typeof result) =>
  planFiles(made).files.map(({ name, text }) => ({ name, text }));
const textOf = (made: typeof result, name: string) =>
  filesOf(made).find((file) => file.name === name)!;

/** Length of a closed line, by Pythagoras. */
function lengthOf({ shapes }: SeenPlan): number {
  return shapes
    .filter(({ kind }) => kind === "boundary-wire")
    .reduce((sum, { place }) => {
      if (place.form !== "line") throw new Error("no line");
      const { line } = place;
      for (let i = 2; i + 1 < line.length; i += 2) {
        sum += Math.hypot(line[i]! - line[i - 2]!, line[i + 1]! - line[i - 1]!);
      }
      return sum;
    }, 0);
}

describe("comparing plans", () => {
  it("a plan with itself: all is in both", () => {
    const { wire, figures } = comparePlans(here, here);
    expect(wire!.lengthM.both).toBeCloseTo(lengthOf(here), 2);
    expect([wire!.lengthM.here, wire!.lengthM.there]).toEqual([0, 0]);
    expect(wire!.pegCount).toMatchObject({ here: 0, there: 0 });
    expect([figures.added, figures.gone]).toEqual([[], []]);
    for (const { before, after } of Object.values(figures.totals)) expect(after).toBe(before);
  });

  it("what is in both and only in one adds up to each plan's wire and pegs", () => {
    const { wire, figures } = comparePlans(here, there);
    const { both, here: onlyHere, there: onlyThere } = wire!.lengthM;
    expect(both + onlyHere).toBeCloseTo(lengthOf(here), 1);
    expect(both + onlyThere).toBeCloseTo(lengthOf(there), 1);
    expect(onlyHere).toBeGreaterThan(10);
    const pegs = ({ pegs }: SeenPlan) => pegs.filter((one) => one.wire === "boundary").length;
    expect(wire!.pegCount.both + wire!.pegCount.here).toBe(pegs(here));
    expect(wire!.pegCount.both + wire!.pegCount.there).toBe(pegs(there));
    expect(figures.totals.mownM2).toEqual({
      before: there.totals.mownM2,
      after: here.totals.mownM2,
    });
  });

  it("the other way round is the other sign", () => {
    const [one, back] = [comparePlans(here, there), comparePlans(there, here)];
    expect(back.wire!.lengthM.here).toBeCloseTo(one.wire!.lengthM.there, 6);
    expect(back.wire!.lengthM.there).toBeCloseTo(one.wire!.lengthM.here, 6);
    expect(back.figures.gone.length).toBe(one.figures.added.length);
  });

  it("a plan in another grid lies where it lay: same wire to 2 mm", () => {
    const [lon, lat] = here.grid.origin;
    const away = placedAt(here, [lon + 0.003, lat - 0.002])!;
    expect(away.shapes[0]!.place).not.toEqual(here.shapes[0]!.place);
    // Scale 1 in both grids to 1 ppm over some hundred metres (docs/crs.md).
    expect(lengthOf(away)).toBeCloseTo(lengthOf(here), 2);
    const back = placedAt(away, [lon, lat])!;
    const { wire } = comparePlans(here, back);
    expect([wire!.lengthM.here, wire!.lengthM.there]).toEqual([0, 0]);
    expect(placedAt(here, [lon + 1, lat])).toBeUndefined();
  });
});

describe("the other plan from files", () => {
  const { origin } = here.grid;
  const read = (...files: { name: string; text: string }[]) => {
    const outcome = readOther(files, origin);
    if (!outcome.ok) throw new Error(outcome.problem.code);
    return outcome.value.model;
  };

  it("plan.geojson with summary.json says the same as the page's own model", () => {
    const plan = read(textOf(other, "plan.geojson"), textOf(other, "summary.json"));
    const { wire, figures } = comparePlans(there, plan);
    expect(wire!.lengthM.here + wire!.lengthM.there).toBe(0);
    expect(wire!.pegCount).toMatchObject({ here: 0, there: 0 });
    for (const [key, { before, after }] of Object.entries(figures.totals)) {
      // Written to millimetres and thousandths of a square metre.
      expect([key, Math.round(before * 100)]).toEqual([key, Math.round(after * 100)]);
    }
    expect([figures.added, figures.gone]).toEqual([[], []]);
  });

  it("plan.geojson alone leaves open what it does not tell", () => {
    const plan = read(textOf(other, "plan.geojson"));
    expect(plan.totals.wireM).toBeCloseTo(there.totals.wireM, 1);
    expect(plan.totals.wireToBuyM).toBeUndefined();
    expect(comparePlans(here, plan).figures.totals.wireToBuyM.before).toBeNaN();
  });

  it("plan.html gives its model; what is no plan, or of elsewhere, is refused", async () => {
    const page = { name: "plan.html", text: planPage(other, {}, await assets()) };
    expect(read(page)).toEqual(there);
    const codeOf = (text: string, name = "a.geojson", at = origin) => {
      const outcome = readOther([{ name, text }], at);
      return outcome.ok ? "fine" : outcome.problem.code;
    };
    expect(codeOf("{}")).toBe("OTHER_PLAN_UNREADABLE");
    expect(codeOf("[1, 2")).toBe("OTHER_PLAN_UNREADABLE");
    expect(codeOf("<p>", "a.html")).toBe("PAGE_UNREADABLE");
    expect(codeOf(page.text, "a.html", [0, 0])).toBe("OTHER_PLAN_ELSEWHERE");
    const broken = textOf(other, "plan.geojson").text.replaceAll(/"coordinates": ?\[/g, '"x":[');
    expect(codeOf(broken)).toBe("OTHER_PLAN_UNREADABLE");
  });
});

describe.skipIf(CHROMIUM === undefined)(`comparing in the page${NO_CHROMIUM}`, () => {
  it("takes files, shows figures, one over the other and side by side, and lets go", async () => {
    const { page, complaints } = await openPage(planPage(result, {}, await assets()));
    await page.getByRole("tab", { name: "Compare" }).click();
    const panel = page.locator("#panel-compare");
    const choose = (...files: { name: string; text: string }[]) =>
      panel.locator("input[type=file]").setInputFiles(
        files.map(({ name, text }) => ({
          name,
          mimeType: "application/json",
          buffer: Buffer.from(text),
        })),
      );
    await choose({ name: "<b>no</b>.geojson", text: "{}" });
    await expect.poll(() => panel.getByRole("alert").textContent()).toContain("<b>no</b>.geojson");
    await choose(textOf(other, "plan.geojson"), textOf(other, "summary.json"));
    await expect.poll(() => panel.locator("h2").first().textContent()).toContain("plan.geojson");
    const row = panel.locator("tr", { hasText: "Mown" });
    const [mown, was] = [here.totals.mownM2, there.totals.mownM2];
    const cells = await row.locator("td").allTextContents();
    expect(cells.map((text) => Number.parseFloat(text.replace("−", "-")))).toEqual([
      expect.closeTo(mown, 0),
      expect.closeTo(was, 0),
      expect.closeTo(mown - was, 0),
    ]);
    expect(await faults(page)).toEqual([]);
    await panel.getByLabel("side by side").check();
    const canvases = page.locator(".second canvas");
    await expect.poll(() => canvases.count()).toBeGreaterThan(0);
    const names = () => page.locator(".stage .map-name").allTextContents();
    expect(await names()).toEqual(["This plan", "plan.geojson"]);
    expect(await faults(page)).toEqual([]);
    await panel.getByLabel("one over the other").check();
    await expect.poll(() => canvases.count()).toBe(0);
    await panel.getByRole("button", { name: "Stop comparing" }).click();
    await expect.poll(() => panel.getByRole("button", { name: "Choose a plan" }).count()).toBe(1);
    expect(complaints).toEqual([]);
  });
});
