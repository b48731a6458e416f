/** Where the station stands: each reason alone on a site whose answer is elementary geometry. */
import { beforeAll, describe, expect, it } from "vitest";
import { loadEngine } from "../../src/geometry/engine.ts";
import { SegmentIndex } from "../../src/geometry/segment-index.ts";
import type { AreaM, PointM } from "../../src/model/geometry.ts";
import type { PlacedPoint, Site } from "../../src/model/site.ts";
import type { PlaceKnowledge } from "../../src/model/station.ts";
import { planSite } from "../../src/plan/plan-site.ts";
import { pegSpacingM } from "../../src/plan/spacing.ts";
import { NOTHING_KNOWN, type StationGround } from "../../src/plan/station-ground.ts";
import { rankOf } from "../../src/plan/station-marks.ts";
import { StationSearch } from "../../src/plan/station-search.ts";
import { builtInProfile } from "../../src/profile/built-in.ts";
import { seeded } from "../support/seeded.ts";
import { box, siteOf, thingOf } from "./shapes.ts";

beforeAll(() => loadEngine());

const profile = builtInProfile("medium");
const spot = (e: number, n: number): PlacedPoint => ({ name: "spot", atM: [e, n], source: {} });

function planned(lawns: readonly AreaM[], more: Partial<Site> = {}, known: PlaceKnowledge = {}) {
  const outcome = planSite(siteOf(lawns, more), profile, {}, known);
  if (!outcome.ok) throw new Error(outcome.problem.code);
  const { loops, findings } = outcome.value;
  const { station } = loops[0]!;
  const [e, n] = station.atM;
  return { station, figures: station.figures!, e, n, findings, loops };
}

const codes = (list: readonly { code: string }[]) => list.map((one) => one.code);

describe("the place of the station", () => {
  const lawn = box(0, 0, 30, 16);

  it("has the straight wire and the clear lawn that the profile asks for", () => {
    const { figures, station } = planned([lawn]);
    expect(figures.straightM).toBeGreaterThanOrEqual(profile.station.straightM);
    expect(figures.clearAheadM).toBeGreaterThanOrEqual(profile.station.clearAheadM);
    expect(figures.straightM).toBe(station.straightM);
    expect(figures.score).toBe(1);
  });

  it("comes with the next best places, best first and apart", () => {
    const { station } = planned([lawn]);
    const places = [station, ...station.options!];
    expect(places).toHaveLength(4);
    const scores = station.options!.map(({ figures }) => figures.score);
    expect([...scores].sort((a, b) => b - a)).toEqual(scores);
    for (const [i, a] of places.entries()) {
      for (const b of places.slice(i + 1)) {
        expect(Math.hypot(a.atM[0] - b.atM[0], a.atM[1] - b.atM[1])).toBeGreaterThanOrEqual(5);
      }
    }
  });

  it("has its slope and hollow as the ground has them", () => {
    // A ramp of 3 % east and 4 % north has a slope of 5 % (Pythagoras) and no hollow.
    const ramp = planned([lawn], {}, { heightAt: (e, n) => 50 + 0.03 * e + 0.04 * n });
    expect(ramp.figures.slopePercent).toBeCloseTo(5, 9);
    expect(ramp.figures.hollowM).toBeCloseTo(0, 9);
    // In a bowl z = r²/100 round the station the ground 3 m round it is 0.09 m higher.
    const place = ramp.station.atM;
    const bowl = planned(
      [lawn],
      { stations: [spot(...place)] },
      { heightAt: (e, n) => ((e - place[0]) ** 2 + (n - place[1]) ** 2) / 100 },
    );
    expect(bowl.figures.hollowM).toBeCloseTo(0.09, 9);
  });

  it("is level: on the terrace, not on the bank beside it", () => {
    // Level north of n = 8, a bank of 20 % south of it.
    const { n, figures } = planned(
      [lawn],
      {},
      { heightAt: (_, north) => (north > 8 ? 0 : 0.2 * (north - 8)) },
    );
    expect(n).toBeGreaterThan(8);
    expect(figures.slopePercent).toBeLessThanOrEqual(profile.station.slopeMaxPercent);
  });

  it("lies in the shade where that is known", () => {
    const { e } = planned(
      [lawn],
      {},
      { sunAt: ([east]) => ({ hoursADay: 6, hotShade: east < 12 ? 0.9 : 0.1 }) },
    );
    expect(e).toBeLessThan(12);
  });

  it("is near the outlet, along a lead round the lawn", () => {
    const { e, n, figures } = planned([lawn], { outlets: [spot(33, 8)] });
    expect(e).toBeGreaterThan(29);
    expect(n).toBeCloseTo(8, 0);
    expect(figures.lead!.acrossLawn).toBe(false);
    expect(figures.lead!.lengthM).toBeCloseTo(Math.hypot(33 - e, 8 - n), 6);
  });

  it("has a lead as long as the taut string round the corners of the lawn", () => {
    // The station is given on the north side, the outlet lies south of the lawn. The wire lies 0.3 m
    // in, the lead goes as far as 0.25 m within it: round the corner (29.45, 0.55) and (29.45, 15.45).
    const { e, n, figures } = planned([lawn], {
      stations: [spot(20, 15.7)],
      outlets: [spot(20, -3)],
    });
    expect(Math.hypot(e - 20, n - 15.7)).toBeLessThan(1e-4);
    const roundM = Math.hypot(9.45, 3.55) + 14.9 + Math.hypot(9.45, 0.25);
    expect(figures.lead!.lengthM).toBeCloseTo(roundM, 4);
  });

  it("has a lead that goes round a house", () => {
    const house = thingOf("house", box(31, 2, 35, 14), { role: "building", contact: "firm" });
    const { figures } = planned([lawn], {
      around: [house],
      stations: [spot(29.7, 8)],
      outlets: [spot(36, 8)],
    });
    // Round the southern or the northern side, by the house's corners (35, 2) and (31, 2).
    const roundM = Math.hypot(1, 6) + 4 + Math.hypot(31 - 29.7, 6);
    expect(figures.lead!.lengthM).toBeCloseTo(roundM, 3);
  });

  it("says so where only a lead across the lawn comes to it", () => {
    const house = thingOf("house", box(12, 6, 18, 10), { role: "building", contact: "firm" });
    const { figures, findings } = planned([lawn], {
      things: [house],
      stations: [spot(15, 0.3)],
      outlets: [spot(15, 7)],
    });
    expect(figures.lead).toEqual({ lengthM: expect.closeTo(6.7, 4), acrossLawn: true });
    expect(codes(findings)).toContain("STATION_POOR");
  });

  it("keeps away from concave corners, islands, water and public edges", () => {
    const l: AreaM = {
      shell: Float64Array.of(0, 0, 40, 0, 40, 12, 20, 12, 20, 30, 0, 30),
      holes: [],
    };
    const road = { kind: "open" as const, line: Float64Array.of(0, 0, 40, 0), isPublic: true };
    const pond = thingOf("pond", box(-4, 10, -1.2, 30), { role: "water", edgeKind: "water" });
    const { figures, e, n } = planned([l], {
      edgeLines: [{ ...road, source: {} }],
      things: [pond],
    });
    for (const key of ["cornerM", "islandM", "waterM", "publicM"] as const) {
      expect(figures[key], key).toBeUndefined();
    }
    expect(Math.abs(e - 20) + Math.abs(n - 12)).toBeGreaterThan(5);
    const given = planned([l], {
      edgeLines: [{ ...road, source: {} }],
      stations: [spot(23, 11.7)],
    });
    // The wire turns right at (19.7, 11.7).
    expect(given.figures.cornerM).toBeCloseTo(3.3, 4);
    expect(planned([l], { things: [pond], stations: [spot(0.3, 20)] }).figures.waterM).toBeCloseTo(
      1.5,
      4,
    );
  });

  it("keeps away from passages", () => {
    // Two rooms with a way of 1.6 m between them: 1.0 m between the wires, driven through only.
    const rooms: AreaM = {
      shell: Float64Array.of(
        ...[0, 0, 20, 0, 20, 9.2, 26, 9.2, 26, 0, 46, 0, 46, 20, 26, 20, 26, 10.8, 20, 10.8],
        ...[20, 20, 0, 20],
      ),
      holes: [],
    };
    expect(planned([rooms]).figures.passageM).toBeUndefined();
    // The narrow way begins where the rooms end, at e = 20; its middle lies at n = 10.
    const { figures } = planned([rooms], { stations: [spot(19.7, 6)] });
    expect(figures.passageM).toBeLessThan(4.5);
  });

  it("is obeyed where it is given, and told what is wrong with it", () => {
    const heightAt = (e: number) => (e > 20 ? 0.15 * (e - 20) : 0);
    const { e, n, findings, station, figures } = planned(
      [lawn],
      { stations: [spot(25, 0.3)] },
      { heightAt },
    );
    expect(Math.hypot(e - 25, n - 0.3)).toBeLessThan(1e-4);
    const poor = findings.find(({ code }) => code === "STATION_POOR")!;
    expect(poor.message).toContain("a slope of 15.0 %, at most 5 % is wanted");
    expect(station.options![0]!.figures.score).toBeGreaterThan(figures.score);
    expect(codes(findings)).not.toContain("STATION_CHOSEN");
  });

  it("depends on the weights of the profile", () => {
    const site = siteOf([lawn], { outlets: [spot(33, 8)] });
    const heightAt = (e: number) => (e > 20 ? 0.045 * (e - 20) : 0);
    const at = (weights: Partial<typeof profile.stationWeights>) => {
      const stationWeights = { ...profile.stationWeights, ...weights };
      const outcome = planSite(site, { ...profile, stationWeights }, {}, { heightAt });
      if (!outcome.ok) throw new Error(outcome.problem.code);
      return outcome.value.loops[0]!.station.atM[0];
    };
    expect(at({ level: 0 })).toBeGreaterThan(29);
    expect(at({ lead: 0 })).toBeLessThan(20);
  });
});

describe("the search", () => {
  /** A star-shaped ring of wire with a hole, and ground that varies. */
  const sketch = (seed: number) => {
    const random = seeded(seed);
    const ring = (corners: number, radiusM: number, rough: number) =>
      Float64Array.from(
        Array.from({ length: corners }, (_, i) => {
          const r = radiusM * (1 + rough * (random() - 0.5));
          const angle = (2 * Math.PI * i) / corners;
          return [r * Math.cos(angle), r * Math.sin(angle)];
        }).flat(),
      );
    const shell = ring(7 + Math.floor(8 * random()), 20, 0.9);
    const hole = ring(5, 4, 0.4);
    const [a, b] = [0.06 * random(), 3 + 6 * random()];
    const outlet: PointM = [25 * random(), 25 * random()];
    const leastM = (at: PointM) => Math.hypot(at[0] - outlet[0], at[1] - outlet[1]);
    const ground: StationGround = {
      ...NOTHING_KNOWN,
      leads: {
        leastM,
        to: (at: PointM) => ({ lengthM: leastM(at) * 1.3, acrossLawn: false }),
      } as unknown as NonNullable<StationGround["leads"]>,
      known: {
        heightAt: (e, n) => a * b * Math.sin(e / b) + a * n,
        sunAt: ([e]) => ({ hoursADay: 5, hotShade: 0.5 + 0.5 * Math.sin(e / 4) }),
      },
    };
    return { shell, all: new SegmentIndex([shell, hole]), ground };
  };

  it.each([1, 2, 3, 4, 5, 6, 7, 8])(
    "finds the best of all pegs, as looking at every one does (seed %i)",
    (seed) => {
      const { shell, all, ground } = sketch(seed);
      const search = new StationSearch(shell, all, ground, profile);
      const spacingM = pegSpacingM(profile);
      let most = -Infinity;
      const count = shell.length / 2;
      let places = 0;
      for (let vertex = 0; vertex < count; vertex++) {
        const j = (vertex + 1) % count;
        const [ae, an, be, bn] = [
          shell[2 * vertex]!,
          shell[2 * vertex + 1]!,
          shell[2 * j]!,
          shell[2 * j + 1]!,
        ];
        const spans = Math.max(2, Math.ceil(Math.hypot(be - ae, bn - an) / spacingM - 1e-9));
        for (let k = 1; k < spans; k++) {
          const share = k / spans;
          const atM: PointM = [ae + share * (be - ae), an + share * (bn - an)];
          const figures = search.figuresAt({ vertex, share, atM });
          most = Math.max(most, rankOf(figures, figures.score, profile));
          places++;
        }
      }
      const { figures } = search.best();
      expect(places).toBeGreaterThan(50);
      expect(rankOf(figures, figures.score, profile)).toBeCloseTo(most, 6);
    },
  );
});
