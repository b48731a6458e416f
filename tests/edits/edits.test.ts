import { beforeAll, describe, expect, it } from "vitest";
import type { Edit, Target } from "../../src/page/edits/edit.ts";
import { NO_EDITS, redone, undone, withEdit, withLastEdit } from "../../src/page/edits/history.ts";
import { targetOf } from "../../src/page/edits/target.ts";
import { PlanningSession, type Replanned } from "../../src/page/worker/session.ts";
import { packSource, unpackSource } from "../../src/page/worker/source.ts";
import { parseJsonText } from "../../src/sitefile/json-text.ts";
import type { SiteFile } from "../../src/sitefile/site-file.ts";
import { COMMENTS, OF, SITE_FILE, SOURCE } from "./garden.ts";

const session = new PlanningSession(SOURCE);
let before: Replanned;
/** South-western corner of the lawn: everything is told from there. */
let [e0, n0] = [0, 0];
beforeAll(async () => {
  before = await edited();
  const { shell } = before.result.site.lawns[0]!.area;
  e0 = Math.min(...shell.filter((_, i) => i % 2 === 0));
  n0 = Math.min(...shell.filter((_, i) => i % 2 === 1));
});

async function edited(...edits: Edit[]): Promise<Replanned> {
  const outcome = await session.plan(edits);
  if (!outcome.ok) throw new Error(outcome.problem.message);
  const { siteFile } = outcome.value;
  for (const comment of COMMENTS) expect(siteFile).toContain(comment);
  return outcome.value;
}

function said({ siteFile }: Replanned): SiteFile {
  const json = parseJsonText(siteFile);
  if (Array.isArray(json)) throw new Error(JSON.stringify(json));
  return json.value as SiteFile;
}

const islands = ({ result }: Replanned) =>
  result.plan.loops.reduce((sum, loop) => sum + loop.exclusionLoops.length, 0);
const codes = ({ result }: Replanned) => result.findings.map((one) => one.code);
const thing = ({ result }: Replanned, name: string) =>
  result.site.things.find((one) => one.name === name);
const corner = (one: ReturnType<typeof thing>) => {
  const shell = one!.areas[0]!.shell;
  const es = [...shell].filter((_, i) => i % 2 === 0);
  const ns = [...shell].filter((_, i) => i % 2 === 1);
  return [Math.min(...es) - e0, Math.min(...ns) - n0];
};

describe("without edits", () => {
  it("the site file is as it was, and each thing of the site leads to its feature", () => {
    expect(before.siteFile).toBe(SITE_FILE);
    const roses = thing(before, 'Roses <b>&"')!;
    expect(targetOf(roses.source, "pegline.json")).toEqual(OF.roses);
    expect(targetOf(before.result.site.stations[0]!.source, "pegline.json")).toMatchObject({
      number: 4,
    });
    expect(corner(roses).map((x) => Number(x.toFixed(2)))).toEqual([8, 8]);
  });
});

describe("each edit stands in the site file and in the plan", () => {
  it("the station moved along the edge", async () => {
    const moved = await edited({ edit: "stations", spots: [{ name: "Shed", atM: [e0 + 4, n0] }] });
    const [lon, lat] = (said(moved).station as { at: [number, number] }).at;
    expect(said(moved).station).toMatchObject({ name: "Shed" });
    expect(moved.result.plan.grid.forward([lon, lat])[0]).toBeCloseTo(e0 + 4, 3);
    expect(moved.result.plan.loops[0]!.station.atM[0]).toBeCloseTo(e0 + 4, 1);
    expect(said(await edited({ edit: "stations", spots: [] })).station).toBeUndefined();
  });

  it("a tree with a loop and without, its other attributes kept", async () => {
    const soft = await edited({ edit: "set", of: OF.oak, set: { loop: "yes" } });
    expect(islands(soft)).toBe(islands(before) + 1);
    expect(said(soft).features).toEqual([
      { layer: "garden", number: 3, set: { height_m: 6, loop: "yes" } },
    ]);
    const back = await edited(
      { edit: "set", of: OF.oak, set: { loop: "yes" } },
      { edit: "set", of: OF.oak, set: { loop: null } },
    );
    expect(back.siteFile).toBe(SITE_FILE);
  });

  it("another role, a set-in of its own, a name", async () => {
    const pond = await edited({
      edit: "set",
      of: OF.roses,
      role: "water",
      set: { setin_m: 0.9, name: "Pond" },
    });
    expect(thing(pond, "Pond")).toMatchObject({ role: "water", setinM: 0.9 });
    expect(said(pond).features![0]).toEqual({
      file: "./survey/garden.geojson",
      layer: "garden",
      id: "bed/7",
      role: "water",
      set: { setin_m: 0.9, name: "Pond" },
    });
  });

  it("a bed moved twice, and back", async () => {
    const move = (e: number, n: number): Edit => ({ edit: "move", of: OF.roses, byM: [e, n] });
    const moved = await edited(move(2, 0.5), move(-0.25, 0));
    expect(said(moved).features![0]).toMatchObject({ id: "bed/7", move_m: [1.75, 0.5] });
    expect(corner(thing(moved, 'Roses <b>&"')).map((x) => Number(x.toFixed(2)))).toEqual([
      9.75, 8.5,
    ]);
    expect(codes(moved)).toContain("FEATURES_CHANGED");
    expect((await edited(move(1, 0), move(-1, 0))).siteFile).toBe(SITE_FILE);
  });

  it("a bed redrawn, moved, taken out", async () => {
    const square = (e: number, n: number, size: number) =>
      [
        [
          [e0 + e, n0 + n],
          [e0 + e + size, n0 + n],
          [e0 + e + size, n0 + n + size],
          [e0 + e, n0 + n + size],
        ],
      ] as [number, number][][];
    const redraw: Edit = {
      edit: "redraw",
      of: OF.roses,
      shape: { form: "area", areas: [square(5, 6, 2)] },
    };
    const redrawn = await edited(redraw, { edit: "move", of: OF.roses, byM: [1, 1] });
    expect(corner(thing(redrawn, 'Roses <b>&"')).map((x) => Number(x.toFixed(2)))).toEqual([6, 7]);
    const gone = await edited(redraw, { edit: "remove", of: OF.roses });
    expect(thing(gone, 'Roses <b>&"')).toBeUndefined();
    expect(said(gone).features![0]).toEqual({
      file: "./survey/garden.geojson",
      layer: "garden",
      id: "bed/7",
      remove: true,
    });
  });

  it("things drawn, changed, moved, redrawn and taken out", async () => {
    const drawBed: Edit = {
      edit: "draw",
      role: "bed",
      name: "New",
      shape: {
        form: "area",
        areas: [
          [
            [
              [e0 + 3, n0 + 14],
              [e0 + 5, n0 + 14],
              [e0 + 5, n0 + 16],
              [e0 + 3, n0 + 16],
            ],
          ],
        ],
      },
    };
    const drawTree: Edit = {
      edit: "draw",
      role: "tree",
      shape: { form: "point", atM: [e0 + 26, n0 + 15] },
      set: { diameter_m: 0.05 },
    };
    const of: Target = { in: "things", number: 1 };
    const drawn = await edited(drawBed, drawTree);
    expect(islands(drawn)).toBe(islands(before) + 2);
    expect(targetOf(thing(drawn, "New")!.source, "pegline.json")).toEqual(of);
    const changed = await edited(
      drawBed,
      { edit: "set", of, role: "gravel", set: { name: "Stones", edge: "kerb" } },
      { edit: "move", of, byM: [0.5, 0] },
    );
    expect(thing(changed, "Stones")).toMatchObject({ role: "gravel", edgeKind: "kerb" });
    expect(corner(thing(changed, "Stones"))[0]).toBeCloseTo(3.5, 3);
    const left = await edited(drawBed, drawTree, { edit: "remove", of });
    expect(said(left).things).toHaveLength(1);
    expect(said(left).things![0]!.role).toBe("tree");
    const none = await edited(drawBed, { edit: "remove", of });
    expect(none.siteFile).toBe(SITE_FILE);
  });

  it("a hole in a lawn, which is no feature: firm, moved, filled", async () => {
    const hole = before.result.site.things.find((one) => one.isHole)!;
    const areas = hole.areas.map(({ shell }) => [
      Array.from({ length: shell.length / 2 }, (_, i): [number, number] => [
        shell[2 * i]!,
        shell[2 * i + 1]!,
      ]),
    ]);
    const of = targetOf(hole.source, "pegline.json", areas)!;
    const firm = await edited({ edit: "set", of, set: { loop: "no" } });
    expect(islands(firm)).toBe(islands(before) - 1);
    const filled = await edited({ edit: "remove", of });
    expect(islands(filled)).toBe(islands(before) - 1);
    expect(filled.result.plan.groundM2 - before.result.plan.groundM2).toBeCloseTo(9, 2);
    const moved = await edited({ edit: "move", of, byM: [0, 9] });
    expect(islands(moved)).toBe(islands(before));
    expect(moved.result.plan.groundM2).toBeCloseTo(before.result.plan.groundM2, 2);
  });

  it("what a stretch of edge is: drawn anew it takes the place of the old one", async () => {
    const line: [number, number][] = [
      [e0, n0 + 20],
      [e0 + 30, n0 + 20],
    ];
    const north = ({ result }: Replanned) => {
      const norths = [...result.plan.loops[0]!.wire].filter((_, i) => i % 2 === 1);
      return n0 + 20 - Math.max(...norths);
    };
    const drop = await edited({ edit: "edge", line, kind: "drop", setinM: 1.2 });
    expect(north(drop)).toBeCloseTo(1.2, 2);
    const wall = await edited(
      { edit: "edge", line, kind: "drop", setinM: 1.2 },
      { edit: "edge", line, kind: "wall" },
    );
    expect(said(wall).edges).toHaveLength(1);
    expect(north(wall)).toBeCloseTo(wall.result.plan.profile.setinM.wall, 2);
    const free = await edited(
      { edit: "edge", line, kind: "drop" },
      { edit: "remove", of: { in: "edges", number: 1 } },
    );
    expect(free.siteFile).toBe(SITE_FILE);
  });

  it("set-ins by edge kind, role and name; machine and its values", async () => {
    const setins = await edited(
      { edit: "setin", by: "edges", name: "open", setinM: 0.4 },
      { edit: "setin", by: "roles", name: "bed", setinM: 0.6 },
      { edit: "setin", by: "things", name: 'roses <b>&"', setinM: 0.7 },
      { edit: "setin", by: "roles", name: "bed", setinM: null },
    );
    expect(said(setins).setin_m).toEqual({ edges: { open: 0.4 }, things: { 'roses <b>&"': 0.7 } });
    expect(setins.result.plan.profile.setinM.open).toBe(0.4);
    expect(thing(setins, 'Roses <b>&"')?.setinM).toBe(0.7);
    const value: Edit = { edit: "profile-value", path: ["pegs", "spacing_max_m"], value: 0.6 };
    const closer = await edited(value);
    expect(said(closer).profile).toEqual({ based_on: "small", pegs: { spacing_max_m: 0.6 } });
    expect(closer.result.quantities.totals.pegs).toBeGreaterThan(
      before.result.quantities.totals.pegs,
    );
    const back = await edited(value, { ...value, value: null });
    expect(said(back).profile).toEqual({ based_on: "small" });
    const large = await edited({ edit: "profile", name: "large" });
    expect(large.result.plan.profile.name).toBe("large");
  });

  it("values over those of a profile file", async () => {
    const own = { name: "Mine", based_on: "small", setin_m: { open: 0.25 } };
    const text = SITE_FILE.replace('"small"', '"mine.json"');
    const other = new PlanningSession({
      ...SOURCE,
      siteFile: { name: "pegline.json", text },
      files: { ...SOURCE.files, profile: JSON.stringify(own) },
    });
    const plain = await other.plan([]);
    if (!plain.ok) throw new Error(plain.problem.message);
    expect(plain.value.result.plan.profile).toMatchObject({ name: "Mine", setinM: { open: 0.25 } });
    const edited = await other.plan([
      { edit: "profile-value", path: ["setin_m", "wall"], value: 0.5 },
    ]);
    if (!edited.ok) throw new Error(edited.problem.message);
    expect(said(edited.value).profile).toEqual({ ...own, setin_m: { open: 0.25, wall: 0.5 } });
    expect(edited.value.result.plan.profile.setinM).toMatchObject({ open: 0.25, wall: 0.5 });
  });

  it("ground without wire, drawn, moved and made dearer instead; parts", async () => {
    const area: [number, number][] = [
      [e0 + 5, n0 + 5],
      [e0 + 14, n0 + 5],
      [e0 + 14, n0 + 13],
    ];
    const barred = await edited({ edit: "run-ground", area, name: "Play", wire: "no" });
    expect(barred.result.site.runGround).toMatchObject([{ name: "Play", factor: "barred" }]);
    const of: Target = { in: "run_ground", number: 1 };
    const dear = await edited(
      { edit: "run-ground", area, name: "Play", wire: "no" },
      { edit: "move", of, byM: [1, 0] },
      { edit: "set", of, set: { wire: null, run_cost: 5 } },
    );
    expect(dear.result.site.runGround).toMatchObject([{ name: "Play", factor: 5 }]);
    const { shell } = dear.result.site.runGround![0]!.area;
    expect(Math.min(...shell.filter((_, i) => i % 2 === 0)) - e0).toBeCloseTo(6, 3);
    expect(said(await edited({ edit: "parts", parts: "carried" })).parts).toBe("carried");
    expect(
      (await edited({ edit: "parts", parts: "none" }, { edit: "parts", parts: null })).siteFile,
    ).toBe(SITE_FILE);
  });

  it("a value that no site file may have is a problem in words, and the next edit goes on", async () => {
    const outcome = await session.plan([{ edit: "setin", by: "edges", name: "open", setinM: -3 }]);
    expect(outcome.ok).toBe(false);
    expect(!outcome.ok && outcome.problem).toMatchObject({
      code: "SITE_FILE_INVALID",
      path: "setin_m.edges.open",
    });
    await edited({ edit: "setin", by: "edges", name: "open", setinM: 0.3 });
  });
});

describe("undo and redo", () => {
  const edits = [1, 2, 3].map((e): Edit => ({ edit: "move", of: OF.roses, byM: [e, 0] }));

  it("go back and forth; a new edit ends redo", () => {
    const all = edits.reduce(withEdit, NO_EDITS);
    const back = undone(undone(all));
    expect(back.done).toEqual([edits[0]]);
    expect(redone(back).done).toEqual([edits[0], edits[1]]);
    expect(redone(redone(redone(back)))).toEqual(all);
    expect(withEdit(back, edits[2]!)).toEqual({ done: [edits[0], edits[2]], undone: [] });
    expect(withLastEdit(all, edits[0]!).done).toEqual([edits[0], edits[1], edits[0]]);
    expect(undone(NO_EDITS)).toEqual(NO_EDITS);
  });

  it("in any order end at the same plan", async () => {
    const [a, b] = [await edited(edits[0]!), await edited(...edits)];
    const again = await edited(edits[0]!);
    expect(again.siteFile).toBe(a.siteFile);
    expect([...again.result.plan.loops[0]!.wire]).toEqual([...a.result.plan.loops[0]!.wire]);
    expect(b.siteFile).not.toBe(a.siteFile);
  });
});

it("what a page plans from comes back from its packed form", () => {
  const packed = JSON.parse(JSON.stringify(packSource(SOURCE)));
  const back = unpackSource(packed);
  expect(back.siteFile).toEqual(SOURCE.siteFile);
  expect(back.files.inputs.map(({ name, bytes }) => [name, [...bytes]])).toEqual(
    SOURCE.files.inputs.map(({ name, bytes }) => [name, [...bytes]]),
  );
});
