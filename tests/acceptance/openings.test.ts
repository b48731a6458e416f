/**
 * What lies beyond a passage and what opens it, on shapes with elementary answers; each opening is
 * then carried out in the drawing and must give what it promised.
 */
import { describe, expect, it } from "vitest";
import type { Xy } from "../support/plane.ts";
import { judgeWritten, type Options, planDrawn } from "../support/planning.ts";
import { type Drawn, disc, Pen, rectangle } from "../support/sites.ts";

interface Opening {
  means: string;
  amount_m: number;
  gives: string;
  of?: string;
  sides?: number;
  length_m?: number;
}
interface Passage {
  width_m: number;
  wire_width_m: number;
  length_m: number;
  bearing_deg: number;
  verdict: string;
  beyond_m2: number;
  islands_beyond: string[];
  openings: Opening[];
  cost: { comes_to: string; area_m2: number; loop?: string; wire_m?: number; pegs?: number } | null;
}

async function planned(drawn: Drawn, options: Options = {}) {
  const written = await planDrawn(drawn, options);
  expect(judgeWritten(written, drawn.truth).breaches).toEqual([]);
  const passages = written.summary.passages as unknown as Passage[];
  return { ...written.summary, passages, text: written.texts.join("\n") };
}

/** Two squares of 20 m, a neck of 6 m between them from `low` up; its south bank may be a bed's edge. */
function neck(
  widthM: number,
  more: { turnDeg?: number; bed?: boolean; edging?: boolean } = {},
): Drawn {
  const low = 9;
  const high = low + widthM;
  const floor = more.bed ? 0 : low;
  const pen = new Pen({ turnDeg: more.turnDeg ?? 0 }).lawn([
    [0, 0],
    [20, 0],
    ...(more.bed
      ? []
      : ([
          [20, low],
          [26, low],
          [26, 0],
        ] as Xy[])),
    [46, 0],
    [46, 20],
    [26, 20],
    [26, high],
    [20, high],
    [20, 20],
    [0, 20],
  ]);
  if (floor === 0) pen.bed(rectangle(6, low, [20, 0]), "Long border");
  if (more.edging) {
    pen.edge(
      [
        [20, high + 0.21],
        [20, high],
        [26, high],
        [26, high + 0.21],
      ],
      "flush",
    );
  }
  return pen.drawn;
}

const amountOf = (passage: Passage, means: string, gives: string) =>
  passage.openings.find((one) => one.means === means && one.gives === gives)?.amount_m;

describe("what would open a passage", () => {
  // Medium machine: 0.9 m between the wires to drive, 1.6 m to mow, 0.3 m of set-in on each side.
  it.each([0.5, 0.7, 0.95, 1.2, 1.45, 1.7, 2.1])(
    "a neck of %f m: widening it is enough, and not more than that",
    async (width) => {
      const { passages } = await planned(neck(width, { turnDeg: 27 }));
      const [passage] = passages;
      expect(passage!.verdict).toBe(width < 1.5 ? "shut" : "drive");
      expect(passage!.wire_width_m).toBeCloseTo(Math.max(0, width - 0.6), 2);
      if (width < 1.5) expect(amountOf(passage!, "widen", "drive")).toBeCloseTo(1.5 - width, 2);
      else expect(amountOf(passage!, "widen", "drive")).toBeUndefined();
      for (const gives of ["drive", "mow"]) {
        const amount = amountOf(passage!, "widen", gives);
        if (amount === undefined) continue;
        const verdicts = ["shut", "drive", "mow"];
        const wide = await planned(neck(width + amount + 0.002, { turnDeg: 27 }));
        expect(wide.passages[0]!.verdict).toBe(gives);
        const short = await planned(neck(width + amount - 0.01, { turnDeg: 27 }));
        expect(short.passages[0]!.verdict).toBe(verdicts[verdicts.indexOf(gives) - 1]);
      }
    },
  );

  it("names the bed whose edge can be moved, and the flush edging that is enough", async () => {
    const { passages, text } = await planned(neck(1.4, { bed: true }));
    const [passage] = passages;
    expect(passage!.openings.filter((one) => one.means === "move-edge")).toMatchObject([
      { of: "Long border", amount_m: expect.closeTo(0.1, 2), gives: "drive" },
      { of: "Long border", amount_m: expect.closeTo(0.8, 2), gives: "mow" },
    ]);
    // Set-in falls from 0.30 to 0.10 m on one side: 1.0 m between the wires.
    const flush = passage!.openings.filter((one) => one.means === "flush-edging");
    expect(flush).toHaveLength(2);
    for (const one of flush) {
      expect(one).toMatchObject({ gives: "drive", sides: 1 });
      expect(one.amount_m).toBeCloseTo(0.2, 3);
      // Along the neck, and past its ends by as much as the set-in falls.
      expect(one.length_m).toBeCloseTo(6.4, 1);
    }
    const edged = await planned(neck(1.4, { bed: true, edging: true }));
    expect(edged.passages[0]).toMatchObject({ verdict: "drive" });
    expect(edged.passages[0]!.wire_width_m).toBeCloseTo(1, 2);
    expect(text).toContain("Or move the edge of Long border by 0.10 m to drive through");
  });

  it("takes flush edging on both sides where one is not enough", async () => {
    const { passages } = await planned(neck(1.15));
    const flush = passages[0]!.openings.filter((one) => one.means === "flush-edging");
    expect(flush).toMatchObject([{ sides: 2, gives: "drive" }]);
    expect(flush[0]!.amount_m).toBeCloseTo(0.4, 3);
    expect(flush[0]!.length_m).toBeCloseTo(12.8, 1);
  });

  it("offers no flush edging at water", async () => {
    const drawn = new Pen()
      .lawn(rectangle(46, 20))
      .thing(rectangle(6, 8.1, [20, 0]), { role: "water", name: "South pond" }, "loop", 1)
      .thing(rectangle(6, 8.1, [20, 11.9]), { role: "water", name: "North pond" }, "loop", 1).drawn;
    const { passages } = await planned(drawn, { profile: "large" });
    expect(passages).toHaveLength(1);
    expect(passages[0]!.verdict).toBe("drive");
    expect(passages[0]!.openings.map((one) => one.means)).toEqual(["widen"]);
  });

  it("says nothing of the kind where it is mown", async () => {
    const { passages } = await planned(neck(2.3));
    expect(passages).toMatchObject([{ verdict: "mow", openings: [], cost: null }]);
  });
});

describe("what lies beyond", () => {
  it.each([0, 15, 40, 90, 131])("a neck turned by %i°: its bearing", async (turnDeg) => {
    const { passages } = await planned(neck(1.4, { turnDeg }));
    const off = Math.abs(passages[0]!.bearing_deg - ((((90 - turnDeg) % 180) + 180) % 180));
    expect(Math.min(off, 180 - off)).toBeLessThan(0.5);
  });

  it("names the islands on the smaller side, and the loop that leaving it takes", async () => {
    const pen = new Pen({ turnDeg: 8 }).lawn([
      [0, 0],
      [20, 0],
      [20, 9],
      [26, 9],
      [26, 0],
      [40, 0],
      [40, 20],
      [26, 20],
      [26, 10.4],
      [20, 10.4],
      [20, 20],
      [0, 20],
    ]);
    pen.bed(rectangle(3, 3, [8, 8]), "Here");
    pen.bed(rectangle(2, 2, [31, 4]), "There");
    pen.bed(disc([33, 14], 1.5), "Over there");
    const { passages, loops } = await planned(pen.drawn);
    expect(passages[0]!.islands_beyond).toEqual(["There", "Over there"]);
    const second = loops.find((loop) => loop.loop === "B")!;
    expect(passages[0]!.cost).toMatchObject({
      comes_to: "loop",
      loop: "B",
      wire_m: second.length_m,
      pegs: second.pegs,
    });
    const [cost] = passages.map((one) => one.cost!);
    expect(cost!.area_m2).toBeGreaterThan(13.4 * 19.4 - 60);
    expect(cost!.area_m2).toBeLessThan(13.4 * 19.4);
  });

  it("counts what is cut off where there is no room for a loop beyond", async () => {
    const drawn = new Pen().lawn([
      [0, 0],
      [20, 0],
      [20, 9],
      [24, 9],
      [24, 7.6],
      [26.6, 7.6],
      [26.6, 12],
      [24, 12],
      [24, 10],
      [20, 10],
      [20, 20],
      [0, 20],
    ]).drawn;
    const { passages } = await planned(drawn, { profile: "small" });
    expect(passages).toHaveLength(1);
    expect(passages[0]!.verdict).toBe("shut");
    expect(passages[0]!.cost!.area_m2).toBeGreaterThan(5);
  });

  it("trims by hand where it is driven through: about its length times its width", async () => {
    const { passages } = await planned(neck(1.7));
    expect(passages[0]!.cost!.comes_to).toBe("hand-trim");
    expect(passages[0]!.cost!.area_m2).toBeGreaterThan(6 * 1.7 - 1.5);
    expect(passages[0]!.cost!.area_m2).toBeLessThan(6 * 1.7 + 1.5);
  });
});

describe("widths on plain shapes", () => {
  const WIDTHS = [0.5, 0.8, 1.1, 1.45, 1.55, 1.9, 2.15, 2.5, 2.7, 3];
  const verdict = (wireM: number) => (wireM < 0.9 ? "shut" : wireM < 1.6 ? "drive" : "mow");

  async function oneOf(drawn: Drawn, width: number, bends = 0) {
    const { passages, loops } = await planned(drawn);
    if (width - 0.6 >= 2) {
      expect(passages).toEqual([]);
      return;
    }
    // A disc in a right-angled bend, between its inner corner and its two outer sides, has the
    // radius w √2 / (1 + √2). Where that is room the ways on both sides of it are passages.
    const inBend = (width * Math.SQRT2) / (1 + Math.SQRT2);
    const ways = 2 * (inBend - 0.3) >= 2 ? bends + 1 : 1;
    expect(passages).toHaveLength(ways);
    expect(Math.abs(passages[0]!.width_m - width)).toBeLessThanOrEqual(0.005);
    expect(passages[0]!.verdict).toBe(verdict(width - 0.6));
    expect(loops).toHaveLength(width - 0.6 < 0.9 ? 2 : 1);
  }

  // Two circles of 9 m that overlap; the common chord is the neck: 2 √(r² − d²) with d half the way
  // between their middles.
  it.each(WIDTHS)("two discs that meet in a neck of %f m", async (width) => {
    const r = 9;
    const d = Math.sqrt(r * r - (width / 2) ** 2);
    const half = (side: 1 | -1): Xy[] => {
      const gap = Math.asin(width / 2 / r);
      return Array.from({ length: 721 }, (_, i): Xy => {
        const angle = gap + ((2 * Math.PI - 2 * gap) * i) / 720 + (side === 1 ? Math.PI : 0);
        return [side * d + r * Math.cos(angle), r * Math.sin(angle)];
      });
    };
    const outline = [...half(-1), ...half(1).slice(1, -1)];
    await oneOf(new Pen({ turnDeg: 17 }).lawn(outline).drawn, width);
  });

  it.each(WIDTHS)("an L-shaped way of %f m between two lawns", async (width) => {
    const outline: Xy[] = [
      [0, 0],
      [15, 0],
      [15, 4],
      [25, 4],
      [25, 15],
      [36, 15],
      [36, 30],
      [12, 30],
      [12, 15],
      [25 - width, 15],
      [25 - width, 4 + width],
      [15, 4 + width],
      [15, 13],
      [0, 13],
    ];
    // The upper lawn begins where the way does, so no other place is narrow.
    await oneOf(new Pen({ turnDeg: 63 }).lawn(outline).drawn, width, 1);
  });

  it.each(WIDTHS)("a U-shaped way of %f m between two lawns", async (width) => {
    const outline: Xy[] = [
      [0, 0],
      [12, 0],
      [12, -8],
      [24, -8],
      [24, 0],
      [36, 0],
      [36, 12],
      [24 - width, 12],
      [24 - width, -8 + width],
      [12 + width, -8 + width],
      [12 + width, 12],
      [0, 12],
    ];
    await oneOf(new Pen({ turnDeg: 119 }).lawn(outline).drawn, width, 2);
  });

  it.each([1.3, 1.55, 2])(
    "a concentric ring of %f m has no narrowest place: no passage",
    async (width) => {
      const drawn = new Pen()
        .lawn(disc([0, 0], 8 + width, 360))
        .bed(disc([0, 0], 8, 360), "Middle").drawn;
      const { passages, loops } = await planned(drawn, { profile: "small" });
      expect(passages).toEqual([]);
      expect(loops).toHaveLength(1);
    },
  );
});
