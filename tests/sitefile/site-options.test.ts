/** A site file in the terms of the library, and the command line on top of it. */
import { describe, expect, it } from "vitest";
import { readSiteFile } from "../../src/sitefile/read-site-file.ts";
import {
  type CommandLineOptions,
  mergeOptions,
  optionsOfSiteFile,
  type SiteFileOptions,
} from "../../src/sitefile/site-options.ts";

function options(said: object): SiteFileOptions {
  const read = readSiteFile(JSON.stringify(said), "pegline.json");
  if (!read.ok) throw new Error(`${read.problem.path}: ${read.problem.message}`);
  return optionsOfSiteFile(read.value, "pegline.json");
}
const rules = (said: object) => options(said).rules;
/** Without keys that say nothing. */
const bare = (value: unknown) => JSON.parse(JSON.stringify(value));

describe("what a site file says", () => {
  it("that is empty is nothing but its name", () => {
    expect(bare(options({}))).toEqual({ handOver: {}, rules: { file: "pegline.json", plan: {} } });
  });

  it("inputs, heights and pictures with their own systems", () => {
    const said = options({
      inputs: ["a.kml", { file: "b.shp" }, { file: "c.dxf", crs: "EPSG:27700" }],
      crs: "epsg:2154",
      terrain: { file: "t.tif", crs: 3857, height_unit: "ft" },
      sheet: { image: { file: "p.png", crs: 25832 } },
      out: "out",
      name: "Yard",
    });
    expect(said.inputs).toEqual([
      { file: "a.kml" },
      { file: "b.shp" },
      { file: "c.dxf", crs: 27700 },
    ]);
    expect(said).toMatchObject({
      name: "Yard",
      out: "out",
      crs: 2154,
      terrain: { file: "t.tif", crs: 3857, heightUnit: "ft" },
      image: { file: "p.png", crs: 25832 },
    });
    expect(bare(options({ terrain: "t.asc", sheet: { image: "p.jpg" } }))).toMatchObject({
      terrain: { file: "t.asc" },
      image: { file: "p.jpg" },
      sheet: { title: {} },
    });
  });

  it("the title block, with the drawing's number and names", () => {
    const { sheet, image } = options({
      sheet: {
        paper: "A3",
        scale: 200,
        project: "P",
        drawing_number: "7",
        drawn_by: "one",
        checked_by: "two",
      },
    });
    expect(bare(sheet)).toEqual({
      paper: "A3",
      scale: 200,
      title: { project: "P", number: "7", drawnBy: "one", checkedBy: "two" },
    });
    expect(image).toBeUndefined();
  });

  it("roles by layer, attribute and shape", () => {
    const { rules: list } = rules({
      roles: [
        { layer: "beds", role: "bed" },
        { field: "kind", is: "pond", role: "water", set: { setin_m: 0.5 } },
        { field: "kind", is: [1, true, "x"], geometry: "area", role: "gravel" },
        { field: "h", at_least: 1, at_most: 2, role: "tree" },
      ],
    });
    expect(bare(list)).toEqual([
      { layer: "beds", role: "bed", set: {} },
      { role: "water", set: { setin_m: 0.5 }, test: { field: "kind", is: ["pond"] } },
      {
        geometry: "area",
        role: "gravel",
        set: {},
        test: { field: "kind", is: [1, true, "x"] },
      },
      { role: "tree", set: {}, test: { field: "h", atLeast: 1, atMost: 2 } },
    ]);
  });

  it("edges by layer, by a line, beside a role; ground by layer or area", () => {
    const line = [
      [10, 50],
      [10.1, 50],
    ];
    const area = [...line, [10.1, 50.1]];
    const said = rules({
      edges: [
        { layer: "walls", edge: "wall", setin_m: 0.4 },
        { line, crs: 4258, edge: "drop", setin_m: 1.5 },
        { line, edge: "hedge" },
        { beside: "water", edge: "drop" },
      ],
      run_ground: [
        { layer: "slopes", slope_percent: 30 },
        { area, crs: 4258, name: "Play", wire: "no" },
        { area, run_cost: 3 },
      ],
    });
    expect(bare(said.edges)).toEqual([
      { layer: "walls", edge: "wall", setinM: 0.4 },
      { line, crs: 4258, edge: "drop", setinM: 1.5 },
      { line, edge: "hedge" },
      { beside: "water", edge: "drop" },
    ]);
    expect(bare(said.runGround)).toEqual([
      { layer: "slopes", slopePercent: 30 },
      { area, crs: 4258, name: "Play", wire: "no" },
      { area, runCost: 3 },
    ]);
  });

  it("which lawns: all, names, or conditions", () => {
    expect(rules({ lawns: "all" }).lawns).toBeUndefined();
    expect(rules({ lawns: ["North", "#2"] }).lawns).toEqual({ names: ["North", "#2"] });
    const near = { at: [10, 50], crs: 4258, count: 3 };
    expect(
      bare(
        rules({
          lawns: { field: "kind", is: "park", least_area_m2: 50, inside: "plot", nearest: near },
        }).lawns,
      ),
    ).toEqual({
      test: { field: "kind", is: ["park"] },
      leastAreaM2: 50,
      inside: "plot",
      nearest: near,
    });
    expect(bare(rules({ lawns: { names: ["A"], nearest: { at: [10, 50] } } }).lawns)).toEqual({
      names: ["A"],
      nearest: { at: [10, 50] },
    });
  });

  it("one place or several, with their systems", () => {
    const said = rules({
      station: { at: [10, 50] },
      outlet: [{ name: "Shed", at: [1, 2], crs: "EPSG:25832" }, { at: [3, 4] }],
    });
    expect(bare(said.stations)).toEqual([{ at: [10, 50] }]);
    expect(bare(said.outlets)).toEqual([{ name: "Shed", at: [1, 2], crs: 25832 }, { at: [3, 4] }]);
  });

  it("set-ins, repairs and code words", () => {
    const said = rules({
      setin_m: { roles: { bed: 0.3 }, edges: { wall: 0.5 }, things: { Pond: 1.2 } },
      repair: {
        join_gap_m: 0.03,
        spike_width_m: 0.002,
        sliver_width_m: 0.04,
        overhang_m: 0.2,
        same_share: 0.9,
        line_gap_m: 0.06,
        far_m: 500,
        chord_tolerance_m: 0.01,
      },
      survey_codes: { start: ["BEG"], end: ["End"], arc_start: ["PC"], arc_end: ["PT"] },
    });
    expect(said.setins).toEqual({
      roles: { bed: 0.3 },
      edges: { wall: 0.5 },
      things: { Pond: 1.2 },
    });
    expect(said.repair).toEqual({
      joinGapM: 0.03,
      spikeWidthM: 0.002,
      sliverWidthM: 0.04,
      overhangM: 0.2,
      sameShare: 0.9,
      lineGapM: 0.06,
      farM: 500,
      chordM: 0.01,
    });
    expect(said.surveyCodes).toEqual({
      start: ["beg"],
      end: ["end"],
      arcStart: ["pc"],
      arcEnd: ["pt"],
    });
    expect(rules({ repair: {}, survey_codes: {}, setin_m: {} })).toMatchObject({
      repair: {},
      surveyCodes: {},
      setins: { roles: {}, edges: {} },
    });
  });

  it("decisions about the plan, and no others", () => {
    const all = { lawn_per_wire_m2: 0.5, split: false, loads_within: 0.3, parts: "carried" };
    expect(rules(all).plan).toEqual({
      lawnPerWireM2: 0.5,
      split: false,
      loadsWithin: 0.3,
      parts: "carried",
    });
    expect(rules({ split: true }).plan).toEqual({ split: true });
  });

  it("times, with the usual ones where they are left out", () => {
    expect(bare(rules({ schedule: {} }).schedule)).toEqual({
      from: "08:00",
      to: "20:00",
      days: ["mon", "tue", "wed", "thu", "fri", "sat"],
      quiet: [],
    });
    const quiet = [{ from: "12:00", to: "13:00" }];
    const own = { from: "07:00", to: "19:30", days: ["sun"], quiet, start: "2030-04-01" };
    expect(bare(rules({ schedule: own }).schedule)).toEqual(own);
    expect(bare(rules({ sun: {} }).sun)).toEqual({});
    expect(
      rules({
        sun: { zone: "UTC", from: "04-01", to: "10-15", hot_from: "10:00", hot_to: "15:00" },
      }).sun,
    ).toEqual({ zone: "UTC", from: "04-01", to: "10-15", hotFrom: "10:00", hotTo: "15:00" });
  });

  it("prices, without tax where none is stated", () => {
    const items = [
      { name: "Wire", per: "wire_m", unit_price: 0.4 },
      { name: "Reel", per: "reel", unit_price: 50, reel_m: 150 },
    ];
    expect(rules({ prices: { currency: "EUR", items } }).prices).toEqual({
      currency: "EUR",
      taxRate: 0,
      items: [
        { name: "Wire", per: "wire_m", unitPrice: 0.4 },
        { name: "Reel", per: "reel", unitPrice: 50, reelM: 150 },
      ],
    });
    expect(rules({ prices: { currency: "EUR", tax_rate: 0.2, items } }).prices?.taxRate).toBe(0.2);
  });
});

describe("the command line on top", () => {
  const FILE = {
    inputs: [{ file: "a.kml", crs: 4326 }, "b.kml"],
    crs: 2154,
    out: "one",
    profile: "small",
    terrain: "t.tif",
    lawns: ["North"],
    roles: [{ layer: "beds", role: "bed" }],
    split: true,
    parts: "own",
    sheet: { paper: "A3", scale: 200, image: "p.png", project: "P" },
    sun: { zone: "UTC", from: "04-01" },
    language: "en",
    units: "m",
    json: true,
    quiet: false,
  };
  const merged = (line: CommandLineOptions, file: object = FILE) =>
    mergeOptions(options(file), line);
  const told = (line: CommandLineOptions, file?: object) =>
    merged(line, file).findings.map(({ message }) => message);

  it("says nothing where it says nothing", () => {
    const { options: all, findings } = merged({});
    expect(findings).toEqual([]);
    expect(bare(all)).toEqual(bare({ ...options(FILE), roles: undefined }));
    expect(bare(merged({}, {}).options)).toEqual({
      handOver: {},
      rules: { file: "pegline.json", plan: {} },
    });
    expect(bare(merged({ inputs: [], lawns: [] }).options.inputs)).toHaveLength(2);
  });

  const WINS: [CommandLineOptions, string, object][] = [
    [{ inputs: ["c.kml"] }, "the inputs named in place of inputs", { inputs: [{ file: "c.kml" }] }],
    [{ out: "two" }, "--out in place of out", { out: "two" }],
    [{ terrain: "u.tif" }, "--terrain in place of terrain", { terrain: { file: "u.tif" } }],
    [{ profile: "large" }, "--profile in place of profile", { profile: "large" }],
    [{ lawns: ["South"] }, "--lawn in place of lawns", { rules: { lawns: { names: ["South"] } } }],
    [{ lawns: ["all"] }, "--lawn in place of lawns", { rules: { lawns: {} } }],
    [{ split: false }, "--no-split in place of split", { rules: { plan: { split: false } } }],
    [{ parts: "none" }, "--parts in place of parts", { rules: { plan: { parts: "none" } } }],
    [
      { sheet: { paper: "A1" } },
      "--sheet in place of sheet.paper",
      { sheet: { paper: "A1", scale: 200, title: { project: "P" } } },
    ],
    [{ sheet: { scale: 500 } }, "--scale in place of sheet.scale", { sheet: { scale: 500 } }],
    [{ image: "q.png" }, "--image in place of sheet.image", { image: { file: "q.png" } }],
    [
      { zone: "+02:00" },
      "--zone in place of sun.zone",
      { rules: { sun: { zone: "+02:00", from: "04-01" } } },
    ],
    [{ language: "de" }, "--language in place of language", { handOver: { language: "de" } }],
    [{ units: "ft" }, "--units in place of units", { handOver: { units: "ft" } }],
    [{ json: false }, "--json in place of json", { json: false }],
    [{ quiet: true }, "--quiet in place of quiet", { quiet: true }],
    [{ roles: { beds: "gravel" } }, "--role before roles", { roles: { beds: "gravel" } }],
  ];
  it.each(WINS)("%j wins, and that is told", (line, words, is) => {
    const { options: all, findings } = merged(line);
    expect(bare(all)).toMatchObject(is);
    expect(findings).toEqual([
      {
        code: "SITE_FILE_OVERRIDDEN",
        severity: "info",
        file: "pegline.json",
        message: `The command line wins over the site file: ${words}.`,
        remedy: "Nothing to do, if that is what you meant.",
      },
    ]);
  });

  it.each(WINS)("%j is not told where the file says nothing of it", (line, _, is) => {
    const { options: all, findings } = merged(line, { inputs: undefined });
    expect(findings).toEqual([]);
    const { title, from, ...rest } = { title: 0, from: 0, ...is };
    void title;
    void from;
    if (!("sheet" in rest) && !("rules" in rest)) expect(bare(all)).toMatchObject(rest);
  });

  it("a system of the command line takes the place of those of inputs too", () => {
    expect(told({ crs: 25832 })).toEqual([
      "The command line wins over the site file: --crs in place of crs; --crs in place of the crs of inputs.",
    ]);
    expect(merged({ crs: 25832 }).options.inputs).toEqual([{ file: "a.kml" }, { file: "b.kml" }]);
    expect(told({ crs: 25832 }, { inputs: ["a.kml"] })).toEqual([]);
  });

  it("roles by name are not told where the file's rules name no layers", () => {
    const roles = [{ field: "k", is: "x", role: "bed" }];
    expect(told({ roles: { beds: "gravel" } }, { roles })).toEqual([]);
  });

  it("the sun is computed where either asks for it", () => {
    expect(merged({ sun: true }, {}).options.rules.sun).toEqual({});
    expect(merged({ zone: "UTC" }, {}).options.rules.sun).toEqual({ zone: "UTC" });
    expect(merged({}, {}).options.rules.sun).toBeUndefined();
    expect(merged({ sun: false }, {}).options.rules.sun).toBeUndefined();
  });

  it("without a file's name the finding names none", () => {
    const { file: _, ...said } = rules(FILE);
    const { findings } = mergeOptions({ ...options(FILE), rules: said }, { out: "two" });
    expect("file" in findings[0]!).toBe(false);
  });
});
