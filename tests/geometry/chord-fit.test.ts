import BufferOp from "jsts/org/locationtech/jts/operation/buffer/BufferOp.js";
import { describe, expect, it } from "vitest";
import { fitChords, spansOf } from "../../src/geometry/chord-fit/chord-fit.ts";
import {
  discRing,
  reversed,
  ringLengthM,
  signedAreaM2,
  vertexCount,
} from "../../src/geometry/rings.ts";
import { pointSegmentM } from "../../src/geometry/segments.ts";
import type { RingM } from "../../src/model/geometry.ts";
import { pointOf, polygonOf } from "../support/jsts.ts";
import { organicRing, seeded } from "../support/seeded.ts";

const OPTIONS = { spacingM: 1, wanderM: 0.15 };

function pegsOf(ring: RingM): number {
  let pegs = 0;
  const n = vertexCount(ring);
  for (let i = 0; i < n; i++) {
    const j = (i + 1) % n;
    const length = Math.hypot(ring[2 * j]! - ring[2 * i]!, ring[2 * j + 1]! - ring[2 * i + 1]!);
    pegs += spansOf(length, OPTIONS.spacingM);
  }
  return pegs;
}

/** Greatest distance of a fitted ring from the outline of a polygon, by jsts, every 5 cm or so. */
function furthestM(ring: RingM, polygon: ReturnType<typeof polygonOf>): number {
  const outline = polygon.getBoundary();
  const n = vertexCount(ring);
  let furthest = 0;
  for (let i = 0; i < n; i++) {
    const j = (i + 1) % n;
    for (let k = 0; k < 20; k++) {
      const e = ring[2 * i]! + ((ring[2 * j]! - ring[2 * i]!) * k) / 20;
      const north = ring[2 * i + 1]! + ((ring[2 * j + 1]! - ring[2 * i + 1]!) * k) / 20;
      furthest = Math.max(furthest, outline.distance(pointOf(e, north)));
    }
  }
  return furthest;
}

describe("fitChords", () => {
  it("leaves a rectangle as it is", () => {
    const ring = Float64Array.of(0, 0, 40, 0, 40, 25, 0, 25);
    expect([...fitChords(ring, OPTIONS)]).toEqual([...ring]);
  });

  it("takes out vertices on a straight line", () => {
    const ring = Float64Array.of(0, 0, 10, 0, 20, 0, 20, 10, 20, 20, 7, 20, 0, 20, 0, 3);
    expect(vertexCount(fitChords(ring, OPTIONS))).toBe(4);
  });

  it("goes round a disc on few pegs, outside it, by less than the wander", () => {
    // Free side outside: the ring runs clockwise, as round an island. With span c the chord round a
    // circle of radius r has its pegs at √(r² + c²/4) (elementary), so at least 2π/(2 atan(c/2r)).
    const radius = 2.3;
    const fewest = Math.ceil(Math.PI / Math.atan(1 / (2 * radius)));
    const fitted = fitChords(reversed(discRing([0, 0], radius, 1e-4)), OPTIONS);
    expect(pegsOf(fitted)).toBeLessThanOrEqual(fewest + 1);
    for (let i = 0; i < fitted.length; i += 2) {
      const from = Math.hypot(fitted[i]!, fitted[i + 1]!);
      expect(from).toBeGreaterThanOrEqual(radius - 0.0005);
      expect(from).toBeLessThanOrEqual(radius + OPTIONS.wanderM + 1e-9);
    }
    expect(ringLengthM(fitted)).toBeLessThan(2 * Math.PI * radius * 1.02);
  });

  it("stays on the free side and within the wander on organic rings (judged by jsts)", () => {
    const random = seeded(11);
    for (let k = 0; k < 25; k++) {
      const ring = organicRing(random, [0, 0], 5 + random() * 20, 60 + Math.floor(random() * 300));
      const given = polygonOf(ring);
      const inner = fitChords(ring, OPTIONS);
      const outer = fitChords(reversed(ring), OPTIONS);
      // 0.6 mm: vertices nearly on the line of their neighbours are left out (0.2 mm, three times over).
      expect(BufferOp.bufferOp(given, 0.0006).covers(polygonOf(inner))).toBe(true);
      expect(BufferOp.bufferOp(polygonOf(outer), 0.0006).covers(given)).toBe(true);
      expect(furthestM(inner, given)).toBeLessThanOrEqual(OPTIONS.wanderM + 0.0003);
      expect(furthestM(outer, given)).toBeLessThanOrEqual(OPTIONS.wanderM + 0.0003);
      expect(pegsOf(inner)).toBeLessThanOrEqual(vertexCount(ring) + ringLengthM(ring));
      expect(pegsOf(inner)).toBeLessThan(1.1 * ringLengthM(inner));
    }
  });

  it("gives the same ring wherever the given one begins", () => {
    const random = seeded(3);
    const ring = organicRing(random, [0, 0], 8, 120);
    const begun = Float64Array.from([...ring.subarray(94), ...ring.subarray(0, 94)]);
    expect([...fitChords(begun, OPTIONS)]).toEqual([...fitChords(ring, OPTIONS)]);
  });

  it("keeps the winding", () => {
    expect(signedAreaM2(fitChords(discRing([0, 0], 5), OPTIONS))).toBeGreaterThan(0);
    expect(signedAreaM2(fitChords(reversed(discRing([0, 0], 5)), OPTIONS))).toBeLessThan(0);
  });
});

describe("two corners within millimetres of each other", () => {
  // A notch of 1.5 mm at the southernmost vertex, as the cut of a narrow end leaves it.
  const notched = [
    [-0.631, 2.0857],
    [0.246, 2.4223],
    [0.4685, 3.3844],
    [-0.1386, 3.6785],
    [-1.4031, 2.8799],
    [-1.3992, 2.5482],
    [-0.6297, 2.0865],
  ];

  it("become one, wherever the ring begins", () => {
    for (let from = 0; from < notched.length; from++) {
      const ring = Float64Array.from([...notched.slice(from), ...notched.slice(0, from)].flat());
      const fitted = fitChords(ring, OPTIONS);
      const edges = Array.from({ length: vertexCount(fitted) }, (_, i) => {
        const j = (i + 1) % vertexCount(fitted);
        return Math.hypot(fitted[2 * j]! - fitted[2 * i]!, fitted[2 * j + 1]! - fitted[2 * i + 1]!);
      });
      expect(edges.length).toBeGreaterThan(4);
      expect(Math.min(...edges)).toBeGreaterThan(0.03);
    }
  });
});

describe("an arc of short edges beside a corner", () => {
  // A corner of 65° where a straight edge meets an arc of 0.94 m drawn by chords of 12 mm, as where
  // the set-in of an edge grows. Either way round.
  const arc = Array.from({ length: 90 }, (_, k): [number, number] => {
    const angle = ((155 + 0.75 * k) * Math.PI) / 180;
    return [2 + 0.94 * Math.cos(angle), 0.6 + 0.94 * Math.sin(angle)];
  });
  const outline: [number, number][] = [[-2, -3], [4, -3], ...[...arc].reverse(), [-2, 0.1]];
  const mirrored = [...outline].reverse().map(([e, n]): [number, number] => [-e, n]);

  it.each([
    ["as drawn", outline],
    ["mirrored", mirrored],
  ])("is followed within the wander, %s", (_, points) => {
    const fitted = fitChords(Float64Array.from(points.flat()), { spacingM: 0.85, wanderM: 0.08 });
    const spans = Array.from({ length: fitted.length / 2 }, (__, i) => {
      const j = (2 * i + 2) % fitted.length;
      return [fitted[2 * i]!, fitted[2 * i + 1]!, fitted[j]!, fitted[j + 1]!] as const;
    });
    for (const [e, n] of points) {
      const offM = Math.min(...spans.map((span) => pointSegmentM(e, n, ...span)));
      // The wander, and 15 mm of vertices dropped for short edges.
      expect(offM).toBeLessThan(0.08 + 0.015);
    }
  });
});
