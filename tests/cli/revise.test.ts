import { readdir, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import type { Feature, FeatureCollection, Polygon } from "geojson";
import { describe, expect, it } from "vitest";
import { demo, emptyFolder, pegline } from "./run.ts";

const GARDEN = demo("house-garden.geojson");

describe("pegline revise", () => {
  it("writes the new plan and what stays, and says what to lift and to lay", async () => {
    const cwd = await emptyFolder();
    await pegline(["plan", GARDEN, "--quiet", "--out", "garden"], { cwd });
    const site: FeatureCollection = JSON.parse(await readFile(GARDEN, "utf8"));
    const bed = site.features.find(
      (one) => one.properties!.name === "Rose bed",
    ) as Feature<Polygon>;
    const top = Math.max(...bed.geometry.coordinates[0]!.map(([, lat]) => lat!));
    // A metre more of bed to the north.
    bed.geometry.coordinates = bed.geometry.coordinates.map((ring) =>
      ring.map(([lon, lat]) => [lon!, lat! > top - 1e-6 ? lat! + 9e-6 : lat!]),
    );
    await writeFile(join(cwd, "new.geojson"), JSON.stringify(site));
    const ran = await pegline(["revise", "garden", "new.geojson", "--out", "second"], { cwd });
    expect(ran.code).toBe(0);
    expect(ran.stdout).toContain("Revision of the wire in the ground");
    expect(await readdir(join(cwd, "second"))).toEqual(
      expect.arrayContaining(["plan.geojson", "revision.geojson", "summary.json"]),
    );
    const args = ["revise", "garden", "new.geojson", "--out", "second", "--json"];
    const { revision, totals } = (await pegline(args, { cwd })).json();
    expect(revision.kept_m).toBeGreaterThan(0.9 * totals.wire_m);
    expect(revision.kept_m + revision.new_m).toBeCloseTo(totals.wire_m, 1);
    const drawn: FeatureCollection = JSON.parse(
      await readFile(join(cwd, "second/revision.geojson"), "utf8"),
    );
    const count = (kind: string) =>
      drawn.features.filter((one) => one.properties!.kind === kind).length;
    expect(count("peg-stays")).toBe(revision.pegs_kept);
    expect(count("peg-new")).toBe(revision.pegs_new);
    expect(count("peg-lifted")).toBe(revision.pegs_lifted);
    // Numbers are those of the first plan; the plan is judged and searched by them.
    const stays = drawn.features.filter((one) => one.properties!.kind === "peg-stays");
    expect(stays.every(({ properties }) => properties!.was === properties!.number)).toBe(true);
    const judged = await pegline(["check", "second", "new.geojson", "--json"], { cwd });
    expect([judged.code, judged.json().verdict]).toEqual([0, "holds"]);
  });

  it("refuses without a plan, and never replaces the plan that it reads", async () => {
    const cwd = await emptyFolder();
    const bare = await pegline(["revise", "--json"], { cwd });
    expect([bare.code, bare.json().error.code]).toEqual([2, "INPUT_MISSING"]);
    await pegline(["plan", GARDEN, "--quiet", "--out", "garden"], { cwd });
    const same = await pegline(["revise", "garden", GARDEN, "--out", "garden", "--json"], { cwd });
    expect(same.code).toBe(2);
  });
});
