/** The laying guide: what it says adds up to the plan, in the order of the wire, and is short enough to be read. */
import { readFile } from "node:fs/promises";
import { describe, expect, it } from "vitest";
import { epsgRegistry } from "../../cli/epsg-registry.ts";
import { terminalName } from "../../src/escape/terminal.ts";
import { guideText } from "../../src/export/hand-over/guide-text.ts";
import { guideOf } from "../../src/handover/guide/build-guide.ts";
import type { GuideStep } from "../../src/handover/guide/guide.ts";
import { walkOf } from "../../src/handover/walk.ts";
import { messagesOf, speaker } from "../../src/handover/words/catalogue.ts";
import { measuresOf } from "../../src/handover/words/measures.ts";
import { builtInProfile, type InputFile, type ProfileName, planInputs } from "../../src/index.ts";
import { estate } from "../support/estates.ts";
import { geojsonInput } from "../support/planning.ts";
import { randomSite } from "../support/random-site.ts";
import { schoolGround } from "../support/school.ts";
import { disc, Pen, rectangle } from "../support/sites.ts";

async function guided(name: string, input: InputFile, profile: ProfileName = "medium") {
  const outcome = await planInputs([input], {
    profile: builtInProfile(profile),
    registry: epsgRegistry,
  });
  if (!outcome.ok) throw new Error(outcome.problem.message);
  const result = outcome.value;
  const errors = result.findings.filter(({ severity }) => severity === "error").length;
  return { name, result, guide: guideOf({ ...result, errors }) };
}

/** Three small beds so that their runs meet at a junction in the middle. */
function fork() {
  const pen = new Pen().lawn(rectangle(50, 50));
  for (let k = 0; k < 3; k++) {
    const angle = Math.PI / 2 + (k * 2 * Math.PI) / 3;
    const at = [25 + 6 * Math.cos(angle), 25 + 6 * Math.sin(angle)] as const;
    pen.bed(disc([at[0], at[1]], 0.6, 16), `Bed ${k + 1}`);
  }
  return pen.drawn.features;
}

const cases = await Promise.all([
  guided("the demo garden", {
    name: "house-garden.geojson",
    bytes: await readFile("fixtures/demo/house-garden.geojson"),
  }),
  guided("a school ground", geojsonInput(schoolGround().features), "large"),
  guided(
    "an estate",
    geojsonInput(estate(5, { radiusM: 60, islands: 14, trees: 12 }).features),
    "large",
  ),
  guided("three beds round a fork", geojsonInput(fork()), "large"),
  ...[3, 5, 8, 13, 21].map((seed) =>
    guided(`random site ${seed}`, geojsonInput(randomSite(seed).features)),
  ),
]);

type Guided = (typeof cases)[number];

const laySteps = ({ guide }: Guided, loop: string): readonly GuideStep[] =>
  guide.sections.find((one) => one.part === "lay" && one.loop === loop)!.steps;

const isLaid = ({ kind }: GuideStep) => ["straight", "curve", "leave", "back"].includes(kind);

async function textOf({ guide }: Guided, language: "en" | "de" = "en", unit: "m" | "ft" = "m") {
  const measures = measuresOf(language, unit);
  return guideText(
    guide,
    speaker(language, await messagesOf(language), measures, terminalName),
    measures,
  );
}

describe.each(cases)("the guide of $name", (one) => {
  const { plan, quantities, ground } = one.result;

  it("lays all of the wire: lengths of its steps add up, the running length never falls", () => {
    plan.loops.forEach((loop, i) => {
      const laid = laySteps(one, loop.name).filter(isLaid);
      const sumM = laid.reduce((sum, { laidM = 0 }) => sum + laidM, 0);
      const wholeM = quantities.loops[i]!.wireGroundM ?? loop.lengthM;
      expect(sumM).toBeCloseTo(wholeM, 6);
      let runningM = 0;
      for (const { laidM = 0, chainageM = 0 } of laid) {
        runningM += laidM;
        expect(chainageM).toBeCloseTo(runningM, 6);
      }
    });
  });

  it("comes to the pegs in the order of the wire, each step where the last one ended", () => {
    plan.loops.forEach((loop, i) => {
      const laid = laySteps(one, loop.name).filter(isLaid);
      const walk = walkOf(loop, ground?.loops[i]).map(({ from }) => from.peg.number);
      expect(laid[0]!.pegs![0]).toBe(loop.pegs[0]!.number);
      let at = 0;
      laid.forEach(({ pegs }, k) => {
        const [from, to] = pegs!;
        if (k > 0) expect(from).toBe(laid[k - 1]!.pegs![1]);
        expect(walk[at]).toBe(from);
        const next = k + 1 === laid.length ? walk.length : walk.indexOf(to, at + 1);
        expect(next).toBeGreaterThan(at);
        at = next;
      });
      expect(laid.at(-1)!.pegs![1]).toBe(loop.pegs[0]!.number);
    });
  });

  it("goes out to every island and comes back from it, and never stands deeper than it went", () => {
    for (const loop of plan.loops) {
      const steps = laySteps(one, loop.name);
      const count = (kind: GuideStep["kind"]) => steps.filter((step) => step.kind === kind).length;
      expect(count("leave")).toBe(count("back"));
      expect(count("leave")).toBeGreaterThanOrEqual(
        Math.min(loop.pairedRuns.length, loop.exclusionLoops.length),
      );
      let depth = 0;
      for (const step of steps.filter(isLaid)) {
        if (step.kind === "leave") depth++;
        expect(step.depth).toBe(depth);
        if (step.kind === "back") depth--;
      }
      expect(depth).toBe(0);
    }
  });

  it("tells every joint at its peg, between the wire before it and after it", () => {
    for (const loop of plan.loops) {
      const steps = laySteps(one, loop.name);
      const told = steps.flatMap(({ kind, say }) => (kind === "joint" ? [say[0]!] : []));
      expect(told.length).toBe(
        quantities.loops.find(({ loop: name }) => name === loop.name)!.joints,
      );
      steps.forEach((step, i) => {
        if (step.say[0]?.key !== "joint.reels") return;
        const { peg } = step.say[0].values!;
        expect(steps[i - 1]!.pegs![1]).toBe(peg);
        expect(steps[i + 1]!.pegs![0]).toBe(peg);
      });
    }
  });

  it("takes long straight stretches in one step, not peg by peg", () => {
    for (const loop of plan.loops) {
      const laid = laySteps(one, loop.name).filter(isLaid);
      // Each stretch lays several pegs; a square lawn of 100 m has four steps, not a hundred.
      expect(laid.length).toBeLessThan(loop.pegs.length / 2);
    }
  });

  it.each([
    ["en", "m"],
    ["en", "ft"],
    ["de", "m"],
  ] as const)(
    "can be said in %s, in %s, with every loop, island and reading",
    async (language, unit) => {
      const text = await textOf(one, language, unit);
      expect(text).not.toMatch(/undefined|NaN|\[object|[{}]/);
      expect(Math.max(...text.split("\n").map((line) => [...line].length))).toBeLessThanOrEqual(
        110,
      );
      for (const { name, pegs, exclusionLoops } of plan.loops) {
        expect(text).toContain(pegs[0]!.number);
        const flat = text.replace(/\s+/g, " ");
        for (const island of exclusionLoops) expect(flat).toContain(island.name);
        expect(text).toMatch(
          language === "en" ? `Prove loop ${name}` : `Schleife ${name} erproben`,
        );
      }
      if (unit === "ft") expect(text).not.toMatch(/\d m\b/);
    },
  );
});

describe("runs that meet at a fork", () => {
  it("are told from the fork on, and back to it", async () => {
    const one = cases.find(({ name }) => name === "three beds round a fork")!;
    expect(one.result.plan.loops[0]!.pairedRuns.some(({ to }) => to.startsWith("junction"))).toBe(
      true,
    );
    const text = (await textOf(one)).replace(/\s+/g, " ");
    expect(text.match(/go out to the fork at A\d+/g)).toHaveLength(1);
    expect(text.match(/Go on from the fork at A\d+ to Bed \d/g)).toHaveLength(2);
    for (const bed of [1, 2, 3]) expect(text).toContain(`Bed ${bed} is closed. Go back to A`);
  });
});

describe("runs from island to island to island", () => {
  it("stay within the width of the text however deep they lead", async () => {
    const steps = Array.from({ length: 60 }, (_, depth): GuideStep => {
      const values = { number: depth, width: { lengthM: 1.5 } };
      return { kind: "straight", depth, chainageM: depth, say: [{ key: "passage.mow", values }] };
    });
    const section = {
      title: { key: "before.title" },
      part: "lay",
      isNumbered: true,
      steps,
    } as const;
    const measures = measuresOf("en", "m");
    const speak = speaker("en", await messagesOf("en"), measures, terminalName);
    const text = guideText(
      { title: { key: "before.title" }, sections: [section] },
      speak,
      measures,
    );
    const widths = text.split("\n").map((line) => line.length);
    expect(Math.max(...widths)).toBeLessThanOrEqual(96);
    const deepest = text.split("\n").filter((line) => /^\s*60\./.test(line));
    expect(deepest[0]!.trimStart().split(/\s+/).length).toBeGreaterThan(5);
  });
});

describe("a square lawn", () => {
  it("is told in a handful of steps, with length, edge and distance from it", async () => {
    const lawn = {
      type: "Feature" as const,
      properties: { role: "lawn", name: "Green" },
      geometry: {
        type: "Polygon" as const,
        coordinates: [
          [
            [-28.5, 47.25],
            [-28.499, 47.25],
            [-28.499, 47.2506],
            [-28.5, 47.2506],
            [-28.5, 47.25],
          ],
        ],
      },
    };
    const one = await guided("square", geojsonInput([lawn]));
    const laid = laySteps(one, "A").filter(isLaid);
    // Four sides, and two more where the station parts one and a reel ends.
    expect(laid.length).toBeLessThanOrEqual(6);
    const text = (await textOf(one)).replace(/\s+/g, " ");
    expect(text).toMatch(/From A\d+ \d+\.\d\d m straight along the edge of the lawn to A\d+/);
    expect(text).toContain("Keep 0.30 m from it.");
    expect(text).toContain("Turn left (about 90°).");
  });
});

describe("names that act", () => {
  it("are shown, not carried out", async () => {
    const text = await readFile("fixtures/demo/house-garden.geojson", "utf8");
    const bytes = new TextEncoder().encode(
      text.replaceAll("Kidney bed", "\\u001b[31mRed\\u202e {x} bed"),
    );
    const said = await textOf(await guided("hostile", { name: "g.geojson", bytes }));
    // biome-ignore lint/suspicious/noControlCharactersInRegex: that is what is looked for
    expect(said).not.toMatch(/[\u001b\u202e]/);
    expect(said).toContain("{x} bed");
  });
});
