/** docs/station.md shows what the tool gives today, and the tool says what the trade would. */
import { readFile, writeFile } from "node:fs/promises";
import { beforeAll, describe, expect, it } from "vitest";
import { BEGIN, END, figuresPage, type PlannedSite, placeOf, plannedSites } from "./page.ts";

const PAGE = "docs/station.md";

let sites: PlannedSite[];
beforeAll(async () => {
  sites = await plannedSites();
}, 120_000);

it("docs/station.md has the figures of today (PEGLINE_WRITE_DOCS=1 writes them)", async () => {
  const text = await readFile(PAGE, "utf8");
  const [from, to] = [text.indexOf(BEGIN), text.indexOf(END)];
  expect(from).toBeGreaterThan(0);
  expect(to).toBeGreaterThan(from);
  const made = figuresPage(sites);
  if (process.env.PEGLINE_WRITE_DOCS === "1") {
    await writeFile(PAGE, text.slice(0, from) + made + text.slice(to + END.length));
    return;
  }
  expect(text.slice(from, to + END.length)).toBe(made);
});

describe("the station chosen", () => {
  const chosen = (title: string) => {
    const { station } = sites.find(({ site }) => site.title === title)!;
    return { station, place: placeOf(station) };
  };

  it("by the road is on the house's side, with a short lead", () => {
    const { station, place } = chosen("House garden by the road");
    expect(place[1]).toBeGreaterThan(17);
    expect(station.lead_m).toBeLessThan(6);
    expect(station.public_m).toBeNull();
  });

  it("on the hillside is on the terrace", () => {
    const { station, place } = chosen("Hillside");
    expect(place[1]).toBeGreaterThan(6);
    expect(station.slope_percent).toBeLessThan(1);
    expect(station.lead_m).toBeLessThan(10);
  });

  it("of two rooms is clear of the way between them, and near the outlet all the same", () => {
    const { station } = chosen("Two rooms");
    expect(station.passage_m === null || station.passage_m > 3).toBe(true);
    expect(station.lead_m).toBeLessThan(12);
  });

  it("by the pond is on the western edge near the outlet, far from the water", () => {
    const { station, place } = chosen("L round a pond");
    expect(place[0]).toBeLessThan(1);
    expect(station.water_m).toBeNull();
    expect(station.lead_m).toBeLessThan(8);
  });

  it("round the house in the middle is by the garage, with a lead over no lawn", () => {
    const { station, place } = chosen("House in the middle");
    expect(place[0]).toBeGreaterThan(35);
    expect(station.lead_across_lawn).toBe(false);
    expect(station.lead_m).toBeLessThan(6);
  });

  it("is never beaten by one of the options shown, where both have straight wire and clear lawn", () => {
    for (const { station } of sites) {
      for (const option of station.options) expect(option.score).toBeLessThanOrEqual(station.score);
    }
  });
});
