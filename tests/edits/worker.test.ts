import { describe, expect, it } from "vitest";
import { planFiles } from "../../src/export/plan-files.ts";
import { differences } from "../../src/page/edits/differences.ts";
import type { Edit } from "../../src/page/edits/edit.ts";
import type { FromWorker, ToWorker } from "../../src/page/worker/messages.ts";
import { PlanningSession } from "../../src/page/worker/session.ts";
import { packSource } from "../../src/page/worker/source.ts";
import { workerLoop } from "../../src/page/worker/worker-loop.ts";
import { OF, SITE_FILE, SOURCE } from "./garden.ts";

const move = (e: number): Edit => ({ edit: "move", of: OF.roses, byM: [e, 0] });
const BAD: Edit = { edit: "setin", by: "edges", name: "open", setinM: 99 };

/** Says messages to a worker and waits for its last answer. */
async function answers(messages: readonly ToWorker[]): Promise<FromWorker[]> {
  const heard: FromWorker[] = [];
  await new Promise<void>((done) => {
    const open = new Set(messages.map((one) => (one.type === "open" ? 0 : one.id)));
    const hear = workerLoop(
      (message) => {
        heard.push(message);
        if (message.type !== "begun") open.delete(message.id);
        if (open.size === 0) done();
      },
      () => new Promise((turn) => setTimeout(turn)),
    );
    for (const message of messages) hear(message);
  });
  return heard;
}

const OPEN: ToWorker = { type: "open", source: packSource(SOURCE) };
const shortly = (heard: readonly FromWorker[]) => heard.map(({ type, id }) => `${type} ${id}`);

describe("the worker", () => {
  it("plans what it opened, then only the newest of what is asked", async () => {
    const heard = await answers([
      OPEN,
      { type: "replan", id: 1, edits: [move(1)] },
      { type: "replan", id: 2, edits: [move(2)] },
      { type: "replan", id: 3, edits: [move(3)] },
    ]);
    expect(shortly(heard)).toEqual([
      "dropped 1",
      "dropped 2",
      "begun 0",
      "planned 0",
      "begun 3",
      "planned 3",
    ]);
    const [first, last] = heard.flatMap((one) => (one.type === "planned" ? [one] : []));
    expect(first!.siteFile).toBe(SITE_FILE);
    expect(last!.siteFile).toContain('"move_m": [3, 0]');
  });

  it("says what is wrong with an edit, and goes on", async () => {
    const heard = await answers([
      OPEN,
      { type: "files", id: 1, edits: [BAD] },
      { type: "files", id: 2, edits: [move(1)] },
    ]);
    expect(heard.find((one) => one.type === "problem")).toMatchObject({
      id: 1,
      problem: { code: "SITE_FILE_INVALID" },
    });
    const files = heard.find((one) => one.type === "files");
    const same = await new PlanningSession(SOURCE).plan([move(1)]);
    if (!same.ok || files?.type !== "files") throw new Error("no files");
    expect(files.files).toEqual(planFiles(same.value.result).files);
    expect(files.files.map(({ name }) => name)).toEqual(["plan.geojson", "summary.json"]);
  });

  it("a fault of ours is told and ends nothing", async () => {
    const broken = { ...OPEN, source: { ...packSource(SOURCE), files: {} as never } } as ToWorker;
    await expect(answers([broken])).rejects.toThrow();
    const heard = await answers([{ type: "replan", id: 4, edits: [] }]);
    expect(shortly(heard)).toEqual(["begun 4", "fault 4"]);
  });
});

describe("differences", () => {
  it("are figures of both plans, and findings that came and went", async () => {
    const heard = await answers([
      OPEN,
      { type: "replan", id: 1, edits: [{ edit: "remove", of: OF.roses }] },
    ]);
    const [before, after] = heard.flatMap((one) => (one.type === "planned" ? [one.model] : []));
    const found = differences(before!, after!);
    const { wireM, islands, groundM2 } = found.totals;
    expect(islands).toEqual({ before: islands.after + 1, after: islands.after });
    expect(wireM.after).toBeLessThan(wireM.before);
    // The bed is a square of 3 m.
    expect(groundM2.after - groundM2.before).toBeCloseTo(9, 2);
    // The price list asks 0.50 for each metre of wire to buy.
    const { wireToBuyM } = found.totals;
    expect(found.price!.before - found.price!.after).toBeCloseTo(
      0.5 * (wireToBuyM.before - wireToBuyM.after),
      1,
    );
    expect(found.added.map(({ code }) => code)).toContain("FEATURES_CHANGED");
    expect(differences(before!, before!)).toMatchObject({ added: [], gone: [] });
  });
});
