/** What the planner says: every finding has its code, its figures, its place, and what to do. */
import { describe, expect, it } from "vitest";
import type { Finding } from "../../src/model/finding.ts";
import type { Loop, Passage } from "../../src/model/plan.ts";
import type { StationFigures } from "../../src/model/station.ts";
import * as say from "../../src/plan/findings.ts";
import { guideLeftOut } from "../../src/plan/ground-findings.ts";
import { passageCost } from "../../src/plan/passage-cost.ts";
import { costSentences, openingSentences } from "../../src/plan/passage-words.ts";
import { reasonsText, stationChosen, stationPoor } from "../../src/plan/station-words.ts";
import { builtInProfile } from "../../src/profile/built-in.ts";
import { box, thingOf } from "./shapes.ts";

// Drives from 0.9 m, mows from 1.6 m; station: 2 m straight, 2.5 m clear, 15 m of lead, away 5 m.
const profile = builtInProfile("medium");
const AT = [3, 4] as const;

const passage = (more: Partial<Passage>): Passage => ({
  number: 7,
  centreLine: Float64Array.of(0, 0, 1, 0),
  widthM: 1.234,
  wireWidthM: 0.567,
  lengthM: 2,
  bearingDeg: 90,
  verdict: "shut",
  beyondM2: 0,
  islandsBeyond: [],
  openings: [{ means: "widen", amountM: 0.333, gives: "drive" }],
  cost: { comesTo: "cut-off", areaM2: 5 },
  atM: AT,
  ...more,
});
const bed = { ...thingOf("Roses", box(0, 0, 1, 1)), source: { file: "a.kml", number: 3 } };
const names = ["a", "b", "c", "d", "e", "f", "g"];

type Told = [string, Finding["severity"], Finding | undefined, ...(string | RegExp)[]];
const TOLD: Told[] = [
  [
    "PASSAGE_SHUT",
    "warning",
    say.passageFinding(passage({}), profile),
    "Passage 7 is 1.23 m wide edge to edge, 0.57 m between the wires: too narrow",
    "needs 0.90 m between the wires.",
  ],
  [
    "PASSAGE_SHUT",
    "warning",
    say.passageFinding(passage({ beyondM2: 12.4, wireWidthM: -0.3 }), profile),
    "0.00 m between the wires",
    "; 12 m² lie beyond.",
  ],
  [
    "PASSAGE_SHUT",
    "warning",
    say.passageFinding(passage({ beyondM2: 12.4, islandsBeyond: ["Pond"] }), profile),
    "; 12 m² with an island (Pond) lie beyond.",
  ],
  [
    "PASSAGE_DRIVE_ONLY",
    "info",
    say.passageFinding(passage({ verdict: "drive", beyondM2: 2, islandsBeyond: names }), profile),
    "the machine drives through but hardly mows in it",
    "2 m² with 7 islands (a, b, c, d, e and 2 more) lie beyond.",
  ],
  [
    "PATH_CROSSED",
    "info",
    say.pathCrossed([bed, thingOf("Drive", box(0, 0, 1, 1))], []),
    "is crossed (Roses, Drive): one loop spans both",
  ],
  ["PARTS_SEPARATE", "warning", say.partsFinding(2, ["A", "B"], AT), "between 2 parts", "(A, B)"],
  [
    "PARTS_LEFT_OUT",
    "warning",
    say.partsLeftOut(1, 33.6, AT),
    /^A part of the lawn, 34 m² inside the wire, cannot be driven to and is left out/,
  ],
  ["PARTS_LEFT_OUT", "warning", say.partsLeftOut(2, 9, AT), /^2 parts .* and are left out/],
  ["PART_CARRIED", "info", say.partCarried("A", AT), "hangs on loop A by a paired run"],
  ["PART_NOT_CARRIED", "warning", say.partNotCarried("B", AT), "the lawn in loop B has no way"],
  ["PART_TOO_SMALL", "warning", say.partTooSmall(1.24, AT), "with 1.2 m² inside its wire"],
  ["LAWN_PIECE_TOO_NARROW", "warning", say.lawnTooNarrow(4.26, AT), "of 4.3 m² has no room"],
  [
    "FIRM_THING_SHUT_OUT",
    "info",
    say.firmJoined(bed, 0.9, AT),
    "between Roses and the wire (less than 0.90 m)",
  ],
  ["FIRM_THING_IN_RUN", "info", say.firmBlocksRun(bed, AT), /^Roses stands in the way/],
  [
    "STATION_TIGHT",
    "warning",
    say.stationTight("A", 1.5, true, profile, AT),
    "1.50 m of straight wire on its shorter side and clear lawn",
    "wants 2.00 m of straight wire on each side and 2.50 m of clear lawn in front",
  ],
  [
    "STATION_TIGHT",
    "warning",
    say.stationTight("A", 1.5, false, profile, AT),
    "and not clear lawn in front",
  ],
  [
    "STATION_MOVED",
    "warning",
    say.stationMoved("A", 1.256, AT),
    "for loop A is 1.26 m off the wire",
  ],
  ["STATION_UNUSED", "warning", say.stationUnused("Shed", AT), "Station Shed is not used"],
  [
    "LOOP_TOO_LONG",
    "warning",
    say.loopTooLong("A", 612.4, 500, AT),
    "has 612 m of wire; the profile allows 500 m",
  ],
  [
    "LOOP_TOO_LARGE",
    "warning",
    say.loopTooLarge("A", 3456, 3000, AT),
    "holds 3456 m² of lawn; the profile allows 3000 m²",
  ],
  ["ISLANDS_MERGED", "info", say.islandsMerged(["a", "b"], AT), "shuts out a, b:"],
  [
    "ISLANDS_SHARE_LOOP",
    "info",
    say.islandsShare(1, 4.25, 1.5, 0.5, AT),
    /^An island shares a loop/,
    "4.3 m less wire for 1.5 m² of lawn, at 0.5 m² for a metre",
  ],
  ["ISLANDS_SHARE_LOOP", "info", say.islandsShare(3, 4, 1, 0.5, AT), /^3 islands share a loop/],
  ["ISLAND_JOINS_EDGE", "info", say.islandJoinsEdge(bed, AT), "cannot pass behind Roses"],
  [
    "PAIRED_RUN_BENDS",
    "info",
    say.pairedRunBends("boundary", "Bed", [], AT),
    "from boundary to Bed is led round something firm.",
  ],
  [
    "PAIRED_RUN_BENDS",
    "info",
    say.pairedRunBends("boundary", "Bed", names, AT),
    "led round a, b, c, d, e and 2 more.",
  ],
  [
    "BEND_TOO_TIGHT",
    "warning",
    say.bendsTight("A", 0.4, [AT], []),
    "At one place the wire of loop A",
    "a radius of 0.40 m.",
  ],
  [
    "BEND_TOO_TIGHT",
    "warning",
    say.bendsTight("A", 0.4, [AT, [9, 9]], ["Bed"]),
    "At 2 places",
    "(round Bed)",
  ],
  ["WIRE_MEETS_ITSELF", "error", say.wireCrosses("A", AT), "The wire of loop A meets itself"],
  ["GUIDE_LEFT_OUT", "warning", guideLeftOut("A", AT), "Loop A has no guide wire"],
];

describe("findings", () => {
  it.each(TOLD)("%s (%s)", (code, severity, finding, ...parts) => {
    expect(finding).toMatchObject({ code, severity });
    for (const part of parts)
      expect(finding!.message).toMatch(part instanceof RegExp ? part : literal(part));
    expect(finding!.message).toMatch(/^[A-Z0-9].*[.]$/);
    expect(finding!.remedy).toMatch(/^[A-Z].*[.]$/);
    if (code !== "PATH_CROSSED") expect(finding!.atM).toEqual(AT);
  });

  it("of a thing name the feature it came from", () => {
    for (const finding of [
      say.firmJoined(bed, 1, AT),
      say.firmBlocksRun(bed, AT),
      say.islandJoinsEdge(bed, AT),
    ]) {
      expect(finding).toMatchObject({ file: "a.kml", number: 3 });
    }
    expect(say.pathCrossed([bed], [])).toMatchObject({ file: "a.kml", number: 3 });
    expect(say.pathCrossed([bed, bed], [])).not.toHaveProperty("file");
  });

  it("of a path that is crossed lie in the largest piece of it", () => {
    const { atM } = say.pathCrossed([bed], [box(0, 0, 1, 1), box(10, 0, 14, 2), box(20, 0, 21, 1)]);
    expect(atM![0]).toBeGreaterThan(10);
    expect(atM![0]).toBeLessThan(14);
    expect(say.pathCrossed([bed], [])).not.toHaveProperty("atM");
    expect(say.bendsTight("A", 0.4, [], [])).not.toHaveProperty("atM");
  });

  it("there is none of a passage that is mown", () => {
    expect(say.passageFinding(passage({ verdict: "mow" }), profile)).toBeUndefined();
  });

  it("a passage's remedy says what opens it and what leaving it comes to", () => {
    expect(say.passageFinding(passage({}), profile)!.remedy).toBe(
      "Widen it by 0.34 m to drive through. Left as it is, 5.0 m² are cut off from the machine.",
    );
  });
});

const literal = (text: string) => new RegExp(text.replace(/[.*+?^${}()|[\]\\]/g, "\\$&"));

describe("what opens a passage, in words", () => {
  it("one sentence a means, lengths rounded up to the centimetre", () => {
    expect(
      openingSentences([
        { means: "widen", amountM: 0.3302, gives: "drive" },
        { means: "move-edge", amountM: 0.5, gives: "drive", of: "Roses" },
        { means: "widen", amountM: 1.03, gives: "mow" },
        { means: "move-edge", amountM: 0.2, gives: "mow", of: "Herbs" },
        { means: "flush-edging", amountM: 0.4, gives: "mow", of: "Roses", sides: 1, lengthM: 3.25 },
        { means: "flush-edging", amountM: 0.4, gives: "drive", of: "Roses", sides: 2 },
      ]),
    ).toEqual([
      "Widen it by 0.34 m to drive through, by 1.03 m to mow in it.",
      "Or move the edge of Roses by 0.50 m to drive through.",
      "Or move the edge of Herbs by 0.20 m to mow in it.",
      "Or lay flush edging along 3.3 m of Roses to mow in it.",
      "Or lay flush edging along 0.0 m of Roses to drive through.",
    ]);
    expect(openingSentences([])).toEqual([]);
  });

  it("what leaving it comes to", () => {
    expect(costSentences(undefined)).toEqual([]);
    expect(costSentences({ comesTo: "hand-trim", areaM2: 1.25 })).toEqual([
      "Left as it is, 1.3 m² in it are trimmed by hand.",
    ]);
    expect(
      costSentences({ comesTo: "loop", areaM2: 40, loop: "B", wireM: 31.6, pegs: 33 }),
    ).toEqual([
      "Left as it is, 40.0 m² need loop B with 32 m of wire, 33 pegs and a station of its own.",
    ]);
    expect(costSentences({ comesTo: "loop", areaM2: 40, loop: "B", pegs: 33 })[0]).toContain(
      "0 m of wire",
    );
  });

  it("the cost: nothing, trimming, a loop of its own, or lawn cut off", () => {
    const sizes = { passageM2: 2, beyondM2: 9 };
    const a = { name: "A", areaM2: 100, wireM: 50, pegs: 55 };
    const b = { name: "B", areaM2: 60, wireM: 40, pegs: 44 };
    const loopB = { comesTo: "loop", areaM2: 60, loop: "B", wireM: 40, pegs: 44 };
    expect(passageCost("mow", [a, b], sizes)).toBeUndefined();
    expect(passageCost("drive", [a, b], sizes)).toEqual({ comesTo: "hand-trim", areaM2: 2 });
    expect(passageCost("shut", [a, b], sizes)).toEqual(loopB);
    expect(passageCost("shut", [b, a], sizes)).toEqual(loopB);
    // Equal: the first.
    expect(passageCost("shut", [a, { ...b, areaM2: 100 }], sizes)).toMatchObject({ loop: "A" });
    const cut = (areaM2: number) => ({ comesTo: "cut-off", areaM2 });
    expect(passageCost("shut", [a, undefined], sizes)).toEqual(cut(9));
    expect(passageCost("shut", [undefined, b], sizes)).toEqual(cut(9));
    expect(passageCost("shut", [a, a], sizes)).toEqual(cut(2));
    expect(passageCost("shut", [a], sizes)).toEqual(cut(2));
    expect(passageCost("shut", [a, undefined], { passageM2: 2, beyondM2: 0 })).toEqual(cut(2));
  });
});

describe("places of stations, in words", () => {
  const figures = (more: Partial<StationFigures> = {}): StationFigures => ({
    straightM: 2.54,
    clearAheadM: 3,
    score: 0.755,
    ...more,
  });
  const loop = (options: unknown[] = []): Loop =>
    ({ name: "A", station: { atM: AT, options } }) as unknown as Loop;

  it("what is known of it, in order", () => {
    expect(reasonsText(figures(), profile)).toEqual([
      "2.5 m of straight wire on the shorter side",
      "3.0 m of clear lawn in front",
    ]);
    expect(
      reasonsText(
        figures({
          clearAheadM: 5,
          slopePercent: 2.34,
          hollowM: 0.1,
          sun: { hotShade: 0.254, hoursADay: 6.25 } as never,
          lead: { lengthM: 12, acrossLawn: true } as never,
          cornerM: 1,
          passageM: 2,
          islandM: 3,
          waterM: 4,
          publicM: 4.5,
        }),
        profile,
      ),
    ).toEqual([
      "2.5 m of straight wire on the shorter side",
      "at least 5.0 m of clear lawn in front",
      "slope 2.3 %",
      "in a hollow of 0.10 m",
      "shade for 25 % of the hot hours",
      "6.3 h of sun a day",
      "lead 12.0 m across the lawn",
      "1.0 m from a concave corner",
      "2.0 m from a passage",
      "3.0 m from an island",
      "4.0 m from water",
      "4.5 m from a public edge",
    ]);
    expect(
      reasonsText(
        figures({ hollowM: 0.09, lead: { lengthM: 3, acrossLawn: false } as never }),
        profile,
      ).slice(2),
    ).toEqual(["lead 3.0 m"]);
  });

  it("one that was chosen says what was not looked at", () => {
    const none = stationChosen(loop(), figures(), {}, profile);
    expect(none).toMatchObject({ code: "STATION_CHOSEN", severity: "info", atM: AT });
    expect(none.message).toContain("for loop A");
    expect(none.message).toContain("with a score of 0.76: 2.5 m of straight");
    expect(none.message).toContain(
      "Not looked at: whether it is level (no heights); shade (plan with --sun); the way of the lead (no outlet).",
    );
    const known = { heightAt: () => 1, sunAt: () => undefined } as never;
    const lead = { lengthM: 3, acrossLawn: false } as never;
    expect(stationChosen(loop(), figures({ lead }), known, profile).message).not.toContain(
      "Not looked at",
    );
    expect(none.remedy.length).toBeGreaterThan(50);
  });

  const poor = (more: Partial<StationFigures>, options: unknown[] = []) =>
    stationPoor(loop(options), figures(more), profile);

  it.each([
    [{ slopePercent: 5.1 }, "the ground has a slope of 5.1 %, at most 5 % is wanted"],
    [{ hollowM: 0.12 }, "it lies 0.12 m lower than the ground round it"],
    [{ sun: { hotShade: 0.4 } }, "it stands in the sun for 60 % of the hot hours"],
    [{ lead: { lengthM: 3, acrossLawn: true } }, "no way for the lead goes round the lawn"],
    [{ lead: { lengthM: 30.1, acrossLawn: false } }, "the lead from the outlet is 30.1 m long"],
    [{ cornerM: 2.4 }, "a concave corner is 2.4 m away"],
    [{ passageM: 2.4 }, "a passage is 2.4 m away"],
    [{ islandM: 2.4 }, "an island is 2.4 m away"],
    [{ waterM: 2.4 }, "water is 2.4 m away"],
    [{ publicM: 2.4 }, "a public edge is 2.4 m away"],
  ] as const)("one that was given, with %j, is told", (more, words) => {
    const [finding] = poor(more as never);
    expect(finding).toMatchObject({ code: "STATION_POOR", severity: "warning", atM: AT });
    expect(finding!.message).toContain(`with a score of 0.76, but ${words}`);
    expect(finding!.remedy).toContain("station-option");
    expect(finding!.message).not.toContain("best place");
  });

  it.each([
    [{}],
    [{ slopePercent: 5 }],
    [{ hollowM: 0.09 }],
    [{ sun: { hotShade: 0.5 } }],
    [{ lead: { lengthM: 30, acrossLawn: false } }],
    [{ cornerM: 2.5, passageM: 2.5, islandM: 2.5, waterM: 2.5, publicM: 2.5 }],
  ] as const)("with %j nothing is wrong", (more) => {
    expect(poor(more as never)).toEqual([]);
  });

  it("a better place is told where there is one", () => {
    const option = (score: number) => [{ figures: figures({ score }) }];
    expect(poor({ cornerM: 1 }, option(0.9))[0]!.message).toContain(
      "The best place found has 0.90: 2.5 m",
    );
    expect(poor({ cornerM: 1 }, option(0.755))[0]!.message).not.toContain("best place");
  });
});
