/** Guide wires: where they lead, what they keep clear of, what they add to what is bought. */
import type { Feature, LineString, Point, Position } from "geojson";
import { describe, expect, it } from "vitest";
import { planeAt, type Xy } from "../support/plane.ts";
import { judgeWritten, planDrawn, type Written } from "../support/planning.ts";
import { randomSite } from "../support/random-site.ts";
import { between, distance, inside, lineLength, segmentsOf } from "../support/segments.ts";
import { type Drawn, disc, Pen, rectangle } from "../support/sites.ts";

const CLEARANCE_M = 0.5;

function ofKind({ plan }: Written, kind: string): Feature[] {
  return plan.features.filter((one) => one.properties?.kind === kind) as Feature[];
}

/** Measures a guide in a plane: its line, and how near it comes to the wire between its ends. */
function measured(written: Written) {
  const [guide] = ofKind(written, "guide-wire");
  const loop = guide!.properties!.loop;
  const wire = ofKind(written, "boundary-wire").find((one) => one.properties!.loop === loop)!;
  const coordinates = (guide!.geometry as LineString).coordinates as Position[];
  const plane = planeAt(coordinates[0]!);
  const line = coordinates.map((at): Xy => plane.toPlane(at));
  const ring = ((wire.geometry as LineString).coordinates as Position[]).map((at) =>
    plane.toPlane(at),
  );
  let nearest = Infinity;
  for (const own of segmentsOf(line.slice(1, -1), 0)) {
    for (const other of segmentsOf(ring, 0)) {
      nearest = Math.min(nearest, between(own.a, own.b, other.a, other.b).distance);
    }
  }
  return { guide: guide!, line, ring, nearest, plane };
}

async function planned(drawn: Drawn, profile: "small" | "medium" | "large" = "large") {
  const written = await planDrawn(drawn, { profile });
  expect(judgeWritten(written, drawn.truth).breaches).toEqual([]);
  return written;
}

describe("a guide wire", () => {
  it("leads through a passage to the far end of the other lawn", async () => {
    const drawn = new Pen({ turnDeg: 14 })
      .lawn([
        [0, 0],
        [25, 0],
        [25, 8],
        [33, 8],
        [33, 0],
        [60, 0],
        [60, 20],
        [33, 20],
        [33, 10.4],
        [25, 10.4],
        [25, 20],
        [0, 20],
      ])
      .bed(disc([45, 10], 3), "Middle")
      .point([12, 0.3], { role: "station", name: "Station" }).drawn;
    const written = await planned(drawn);
    const { guide, line, ring, nearest } = measured(written);
    expect(nearest).toBeGreaterThanOrEqual(CLEARANCE_M - 0.002);
    expect(guide.properties!.clearance_m).toBeCloseTo(CLEARANCE_M, 2);
    expect(guide.properties!.length_m).toBeCloseTo(lineLength(line), 2);
    // From (12, 0.3) to a far corner: no way can be shorter than by the neck's two inner corners.
    const corner = (y: number) =>
      Math.hypot(25 - 12, 8.8 - 0.3) + 8 + Math.hypot(59.7 - 33, y - 9.2);
    expect(guide.properties!.length_m).toBeGreaterThan(Math.max(corner(0.3), corner(19.7)) - 1.5);
    expect(guide.properties!.length_m).toBeLessThan(corner(19.7) + 8);
    // It ends on the wire, at a peg of it.
    const end = line[line.length - 1]!;
    expect(Math.min(...ring.map((at) => distance(at, end)))).toBeLessThan(0.001);
  });

  it("is in the summary, in the text and in what is bought", async () => {
    const drawn = new Pen().lawn(rectangle(40, 20)).drawn;
    const written = await planned(drawn);
    const [guide] = ofKind(written, "guide-wire");
    const pegs = ofKind(written, "guide-peg");
    const totals = written.summary.totals as unknown as Record<string, number>;
    expect(totals.guide_m).toBe(guide!.properties!.length_m);
    expect(totals.guide_pegs).toBe(pegs.length);
    expect(guide!.properties!.pegs).toBe(pegs.length);
    // Slack 2 %, spare ends of 1 m: two of the loop, one of the guide. Pegs with 5 % spare.
    expect(totals.wire_to_buy_m).toBeCloseTo(1.02 * (totals.wire_m! + totals.guide_m!) + 3, 3);
    expect(totals.pegs_to_buy).toBe(Math.ceil(1.05 * (totals.pegs! + totals.guide_pegs!) - 1e-9));
    expect(totals.joints).toBe(1);
    expect(pegs.map((peg) => peg.properties!.number)).toEqual(pegs.map((_, i) => `G${i + 1}`));
    const { line, plane } = measured(written);
    const at = [
      line[0]!,
      ...pegs.map((peg) => plane.toPlane((peg.geometry as Point).coordinates)),
      line[line.length - 1]!,
    ];
    for (let i = 1; i < at.length; i++) expect(distance(at[i - 1]!, at[i]!)).toBeLessThan(1.0002);
    // Every bend of the line has a peg.
    for (const bend of line)
      expect(Math.min(...at.map((p) => distance(p, bend)))).toBeLessThan(1e-3);
  });

  it("is not laid by the small and the medium machine", async () => {
    const drawn = new Pen().lawn(rectangle(40, 20)).drawn;
    for (const profile of ["small", "medium"] as const) {
      expect(ofKind(await planned(drawn, profile), "guide-wire")).toEqual([]);
    }
  });

  it("crosses nothing on invented sites: it lies inside the wire, clear of it by what it states", async () => {
    let laid = 0;
    for (let seed = 101; seed < 125; seed++) {
      const { features, truth } = randomSite(seed, { oneKind: seed % 2 === 0 });
      const written = await planDrawn({ features, truth }, { profile: "large" });
      for (const one of ofKind(written, "guide-wire")) {
        laid++;
        const single = {
          ...written,
          plan: {
            ...written.plan,
            features: written.plan.features.filter(
              (f) => f.properties?.kind !== "guide-wire" || f === one,
            ),
          },
        };
        const { line, ring, nearest } = measured(single);
        expect(nearest).toBeGreaterThanOrEqual(Number(one.properties!.clearance_m) - 0.002);
        expect(nearest).toBeGreaterThan(0.09);
        for (const at of line.slice(1, -1)) expect(inside(at, ring.slice(0, -1))).toBe(true);
      }
    }
    expect(laid).toBeGreaterThan(15);
  });
});
