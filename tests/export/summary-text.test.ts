/** The summary for people: each section where there is something to say, in plain figures. */
import { describe, expect, it } from "vitest";
import { type Summary, summaryOf } from "../../src/export/summary.ts";
import { summaryText } from "../../src/export/summary-text.ts";
import { cautionsFor } from "../../src/handover/cautions.ts";
import { quantitiesOf } from "../../src/handover/quantities.ts";
import { samplePlan, sampleSite } from "./sample-plan.ts";

type Loose<T> = T extends object ? { -readonly [K in keyof T]?: Loose<T[K]> | null } : T;

/** The sample's summary with some of its values changed, key by key. */
function text(change: Loose<Summary> = {}): string {
  const plan = samplePlan();
  const site = sampleSite();
  const quantities = quantitiesOf(plan);
  const cautions = cautionsFor(site, plan, quantities);
  const summary = summaryOf({ site, plan, quantities, cautions, schedule: [], findings: [] });
  return summaryText(merged(summary, change) as Summary);
}

function merged(base: unknown, change: unknown): unknown {
  if (typeof change !== "object" || change === null || Array.isArray(change)) return change;
  if (typeof base !== "object" || base === null || Array.isArray(base)) return change;
  const keys = Object.entries(change).map(([key, value]) => [
    key,
    merged((base as Record<string, unknown>)[key], value),
  ]);
  return { ...base, ...Object.fromEntries(keys) };
}

describe("site", () => {
  it("lawn between two loops is told where there is some", () => {
    expect(text()).not.toContain("between two loops");
    expect(text({ totals: { between_loops_m2: 3.25 } })).toMatch(
      /of that between two loops +3\.3 m²/,
    );
  });

  const terrain = {
    from: "heights.tif",
    wire_lowest_m: 101.234,
    wire_highest_m: 104.5,
    steep_m2: 12,
    steepest_percent: null,
    edge_falls_m: 4,
    edge_fall_most_percent: null,
  };

  it("heights: what the wire lies between, what is too steep, what falls away", () => {
    const flat = text();
    expect(flat).not.toContain("heights:");
    expect(flat).toContain("lengths are flat, for no heights are given");
    const on = text({ terrain });
    expect(on).toContain("heights: heights.tif: the wire lies between 101.23 m and 104.50 m");
    expect(on).not.toContain("too steep");
    expect(on).not.toContain("fall away");
    expect(on).not.toContain("lengths are flat");
    const steep = text({
      terrain: { ...terrain, steepest_percent: 48.4, edge_fall_most_percent: 22.6 },
    });
    expect(steep).toContain("too steep: 12.0 m², up to 48 %, not shut out");
    expect(steep).toContain("edges that fall away: 4.0 m of wire, by up to 23 %");
    for (const none of [{ wire_lowest_m: null }, { wire_highest_m: null }]) {
      expect(text({ terrain: { ...terrain, ...none } })).toContain(
        "heights.tif: none under the wire",
      );
    }
  });

  it("lengths on the ground stand beside flat ones, flat where none are known", () => {
    const on = text({ terrain, totals: { wire_ground_m: 33.25 } });
    expect(on).toContain("on the ground");
    expect(on).toContain("33.3 m is laid along the ground (32.0 m flat)");
    // The sample's loop has no length on the ground: 32.0 m twice.
    expect(on).toMatch(/A +32\.0 m +32\.0 m/);
  });

  it("a plan without loops says so", () => {
    const none = text({ loops: [] });
    expect(none).toContain("none: see the findings");
    expect(none).not.toContain("Loop reading");
    expect(none).not.toContain("Station (");
  });
});

describe("stations", () => {
  const place = {
    score: 0.75,
    straight_m: 2,
    clear_ahead_m: 3,
    slope_percent: 4.25,
    hot_shade: 0.5,
    lead_m: 12,
    lead_across_lawn: true,
  };
  const of = (station: object | null) => {
    const [loop] = summaryOf({
      site: sampleSite(),
      plan: samplePlan(),
      quantities: quantitiesOf(samplePlan()),
      cautions: [],
      schedule: [],
      findings: [],
    }).loops;
    return text({ loops: [{ ...loop, station }] as never });
  };

  it("given or chosen, with what is known of the place and of the next best", () => {
    const unknown = { ...place, slope_percent: null, hot_shade: null, lead_m: null };
    const said = of({ ...place, given: true, options: [unknown] });
    expect(said).toMatch(/A, given +0\.75 +2\.0 m +3\.0 m +4\.3 % +50 % +12\.0 m over lawn/);
    expect(said).toMatch(/next 1 +0\.75 +2\.0 m +3\.0 m +\? +\? +\?/);
    expect(of({ ...place, lead_across_lawn: false, given: false, options: [] })).toMatch(
      /A, chosen .* 12\.0 m\n/,
    );
    expect(of(null)).not.toContain("Station (");
  });
});

describe("sun, times, simulation, signal", () => {
  const sun = {
    from: "04-01",
    to: "10-31",
    least_h: 1.25,
    most_h: 9.75,
    mean_h: 6.5,
    day_length_h: 14.1,
    lawn: [
      { from_h: 0, to_h: 2, area_m2: 12 },
      { from_h: 2, to_h: 4, area_m2: 0 },
    ],
  };

  it("the sun on the lawn, where there is any figure of it", () => {
    expect(text()).not.toContain("Direct sun");
    expect(text({ sun: { ...sun, mean_h: null } as never })).not.toContain("Direct sun");
    const on = text({ sun: sun as never });
    expect(on).toContain("under a clear sky from 04-01 to 10-31");
    expect(on).toContain("from 1.3 to 9.8 h, 6.5 h on average; 14.1 h on open ground");
    expect(on).toMatch(/0 to 2 h +12\.0 m²/);
    expect(on).not.toContain("2 to 4 h");
    expect(text({ sun: { ...sun, least_h: null, most_h: null } as never })).toContain(
      "from 0.0 to 0.0 h",
    );
  });

  it("the timetable puts days with the same hours together", () => {
    const shifts = [
      ...["mon", "tue", "wed"].map((day) => ({ day, from: "08:00", to: "12:30" })),
      { day: "fri", from: "08:00", to: "12:30" },
      { day: "sat", from: "08:00", to: "10:00" },
      { day: "sat", from: "14:00", to: "15:00" },
    ];
    const one = {
      loop: "A",
      mowing_h: 12.34,
      charging_h: 8,
      available_h: 60,
      load: 0.34,
      shifts,
    };
    const on = text({ schedule: [one] as never });
    expect(on).toMatch(
      /A +12\.3 h +8\.0 h +60 h +34 % +mon to wed 08:00-12:30, fri 08:00-12:30, sat 08:00-10:00 and 14:00-15:00/,
    );
    expect(text()).not.toContain("Timetable");
  });

  it("the simulation, with its guide where there is one", () => {
    const after = [
      { hours: 2, share: 0.5 },
      { hours: 4, share: 0.755 },
    ];
    const one = { loop: "A", after, with_guide: [], missed_m2: 1.25 };
    const plain = text({ coverage: [one] as never });
    expect(plain).toMatch(/loop +2 h +4 h +largest patch missed/);
    expect(plain).toMatch(/A +50\.0 % +75\.5 % +1\.3 m²/);
    expect(plain).not.toContain("with guide");
    expect(text({ coverage: [{ ...one, with_guide: after }] as never })).toContain("with guide");
    expect(text({ coverage: [] as never })).not.toContain("gone over");
  });

  it("the signal, and loudly where its sign is wrong", () => {
    const one = {
      loop: "A",
      wrong_signs: 0,
      points: 321,
      least_ut_per_a: 0.1234,
      clash_share: 0.02,
      pair_residue_share: 0.1,
      inductance_uh: 88,
    };
    expect(text({ signal: [one] as never })).toMatch(
      /A +right at 321 places +0\.123 µT per A +2 % +10 % +88 µH/,
    );
    expect(text({ signal: [{ ...one, wrong_signs: 3 }] as never })).toContain(
      "WRONG: see the findings",
    );
  });
});

describe("what to buy", () => {
  it("couplers in one and in several", () => {
    expect(text({ totals: { joints: 0 } })).not.toContain("sealed coupler");
    expect(text({ totals: { joints: 1 } })).toContain(", 1 sealed coupler\n");
    expect(text({ totals: { joints: 2 } })).toContain(", 2 sealed couplers\n");
  });

  it("guide wire, on the ground where that is known", () => {
    expect(text()).not.toContain("of guide wire");
    const guide = { guide_m: 12, guide_pegs: 7 };
    expect(text({ totals: guide })).toContain("with 12.0 m of guide wire, 7 pegs of its own");
    expect(text({ totals: { ...guide, guide_ground_m: 12.5 } })).toContain(
      "with 12.5 m of guide wire",
    );
  });

  it("runs on dearer ground, and the distance from the bound", () => {
    expect(text({ totals: { paired_run_m: 8, paired_run_cost_m: 20 } })).toContain(
      "8.0 m of paired runs, chosen as if they were 20.0 m",
    );
    expect(text({ totals: { bound_gap: 0.0312 } })).toContain("at most 3.1 % above the least");
    const none = text({ totals: { bound_gap: 0 } });
    expect(none).not.toContain("above the least");
    expect(none).not.toContain("chosen as if");
  });

  it("the bill, to the currency's own digits", () => {
    expect(text()).not.toContain("Price in");
    const bill = {
      currency: "EUR",
      items: [{ name: "Wire", quantity: 40, unit_price: 0.5, amount: 20 }],
      net: 20,
      tax_rate: 0.075,
      tax: 1.5,
      total: 21.5,
    };
    const eur = text({ prices: bill as never });
    expect(eur).toContain("Price in EUR");
    expect(eur).toMatch(/Wire +40 × 0\.5 +20\.00/);
    expect(eur).toMatch(/tax 7\.5 % +1\.50/);
    // ISO 4217: the yen has no minor unit.
    expect(text({ prices: { ...bill, currency: "JPY" } as never })).toMatch(/net +20\n/);
  });
});

describe("parts and passages", () => {
  it("choices for parts, with the one that is planned", () => {
    const one = { wire_m: 40, pegs: 44, stations: 2, mown_m2: 60 };
    const parts = {
      choice: "carried",
      compared: [
        { ...one, parts: "own" },
        { ...one, parts: "carried" },
        { ...one, parts: "none" },
      ],
    };
    const lines = text({ parts: parts as never }).split("\n");
    expect(lines.find((line) => line.includes("own: a loop and station each"))).not.toContain("<-");
    expect(lines.find((line) => line.includes("carried: on the main wire"))).toContain(
      "<- this plan",
    );
    expect(text()).not.toContain("cannot drive to");
  });

  const passage = (more: object) => {
    const [one] = summaryOf({
      site: sampleSite(),
      plan: samplePlan(),
      quantities: quantitiesOf(samplePlan()),
      cautions: [],
      schedule: [],
      findings: [],
    }).passages;
    return text({ passages: [{ ...one, ...more }] as never });
  };

  it("what lies beyond a passage", () => {
    expect(passage({ beyond_m2: 0, islands_beyond: [] })).not.toContain("beyond\n");
    expect(passage({ beyond_m2: 5, islands_beyond: [] })).toContain("; 5.0 m² beyond");
    expect(passage({ beyond_m2: 5, islands_beyond: ["a"] })).toContain(
      "5.0 m² with 1 island beyond",
    );
    expect(passage({ beyond_m2: 5, islands_beyond: ["a", "b"] })).toContain(
      "with 2 islands beyond",
    );
    expect(passage({ verdict: "drive" })).toContain("driven through, not mown evenly");
    expect(passage({ verdict: "mow" })).toContain("mown like the rest");
    expect(text({ passages: [] })).toContain("none narrower than 2.00 m");
    expect(passage({ cost: null, openings: [] })).not.toContain("Left as it is");
  });

  it("names of others cannot act on the terminal", () => {
    const said = text({ site: { name: "Yard\u001b[31m\u202e" } });
    // biome-ignore lint/suspicious/noControlCharactersInRegex: that is what is looked for
    expect(said).not.toMatch(/\u001b|\u202e/);
  });
});
