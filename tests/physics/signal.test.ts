import { describe, expect, it } from "vitest";
import { inductanceUh } from "../../src/physics/reading/inductance.ts";
import { currentPathOf } from "../../src/physics/signal/current-path.ts";
import { MU_0, upwardFieldUtPerA } from "../../src/physics/signal/field.ts";
import { pairResidue } from "../../src/physics/signal/pair-residue.ts";

const ring = (...points: [number, number][]) => new Float64Array(points.flat());
const circle = (radiusM: number, count: number) =>
  ring(
    ...Array.from({ length: count }, (_, i): [number, number] => {
      const angle = (2 * Math.PI * i) / count;
      return [radiusM * Math.cos(angle), radiusM * Math.sin(angle)];
    }),
  );

describe("field of a wire, microtesla per ampere", () => {
  it("centre of a square: sqrt(2) µ0 I/(π R), R from centre to side (Griffiths, problem 5.8, from memory)", () => {
    const path = currentPathOf(ring([-3, -3], [3, -3], [3, 3], [-3, 3]));
    const textbook = ((Math.SQRT2 * MU_0) / (Math.PI * 3)) * 1e6;
    expect(upwardFieldUtPerA(path, 0, 0) / textbook).toBeCloseTo(1, 9);
  });

  it("centre of a circle: µ0 I/(2R) (Griffiths, example 5.6, from memory), within 0.01 %", () => {
    const path = currentPathOf(circle(5, 720));
    expect(upwardFieldUtPerA(path, 0, 0) / ((MU_0 / 10) * 1e6)).toBeCloseTo(1, 4);
  });

  it("over the axis of a circle: µ0 I R²/2(R² + h²)^1.5 (Griffiths, example 5.6, from memory)", () => {
    const path = currentPathOf(circle(5, 720));
    const textbook = ((MU_0 * 25) / (2 * (25 + 4) ** 1.5)) * 1e6;
    expect(upwardFieldUtPerA(path, 0, 0, 2) / textbook).toBeCloseTo(1, 4);
  });

  it("beside a straight piece: µ0 I/(4πs)(sin θ2 − sin θ1) (Griffiths, example 5.5, from memory)", () => {
    for (const [along, s] of [
      [0, 1],
      [2, 0.01],
      [-7, 0.3],
      [30, 2],
    ] as const) {
      const piece = new Float64Array([-3, 0, 4, 0]);
      const sin = (end: number) => (end - along) / Math.hypot(end - along, s);
      const textbook = (MU_0 / (4 * Math.PI * s)) * (sin(4) - sin(-3)) * 1e6;
      expect(upwardFieldUtPerA(piece, along, s) / textbook).toBeCloseTo(1, 8);
    }
  });

  it("a piece cut in many gives the same, and pieces in one line are joined", () => {
    const whole = currentPathOf(ring([0, 0], [10, 0], [10, 4], [0, 4]));
    const cut = ring([0, 0], [1, 0], [2.5, 0], [10, 0], [10, 1], [10, 4], [7, 4], [0, 4], [0, 3]);
    expect(currentPathOf(cut)).toEqual(whole);
  });

  it("on the line of a piece there is no field of it", () => {
    expect(upwardFieldUtPerA(new Float64Array([0, 0, 1, 0]), 5, 0)).toBe(0);
    expect(upwardFieldUtPerA(new Float64Array([0, 0, 1, 0]), 0.5, 0)).toBe(0);
  });
});

describe("residue over a pair", () => {
  it("equals the numbers of two long wires against one", () => {
    const [gap, height, far] = [0.01, 0.1, 1e5];
    const pair = new Float64Array([-far, -gap / 2, far, -gap / 2, far, gap / 2, -far, gap / 2]);
    const single = new Float64Array([-far, 0, far, 0]);
    const most = upwardFieldUtPerA(single, 0, height, height);
    expect(pairResidue(gap, height)).toBeCloseTo(upwardFieldUtPerA(pair, 0, 0, height) / most, 6);
  });

  it("grows with the gap", () => {
    expect(pairResidue(0.01, 0.1)).toBeCloseTo(0.1995, 4);
    expect(pairResidue(0.05, 0.1)).toBeGreaterThan(4 * pairResidue(0.01, 0.1));
  });
});

describe("inductance", () => {
  const a = 0.0006;
  it("of a circle: µ0 R(ln(8R/a) − 7/4) (Rosa & Grover 1912, formula for a round wire, from memory), within 1 %", () => {
    const textbook = MU_0 * 10 * (Math.log((8 * 10) / a) - 1.75) * 1e6;
    expect(Math.abs(inductanceUh(circle(10, 120), a) / textbook - 1)).toBeLessThan(0.01);
  });

  it("of a square: (2µ0 s/π)(ln(s/a) − 0.52401) (Grover, Inductance Calculations 1946, from memory), within 1 %", () => {
    const side = 20;
    const textbook = ((2 * MU_0 * side) / Math.PI) * (Math.log(side / a) - 0.52401) * 1e6;
    const square = ring([0, 0], [side, 0], [side, side], [0, side]);
    expect(Math.abs(inductanceUh(square, a) / textbook - 1)).toBeLessThan(0.01);
  });

  it("of a long pair: µ0 l/π (ln(d/a) + 1/4) (elementary, two long parallel wires), within 2 %", () => {
    const [lengthM, gap] = [50, 0.01];
    const textbook = ((MU_0 * lengthM) / Math.PI) * (Math.log(gap / a) + 0.25) * 1e6;
    const pair = ring([0, 0], [lengthM, 0], [lengthM, gap], [0, gap]);
    expect(Math.abs(inductanceUh(pair, a) / textbook - 1)).toBeLessThan(0.02);
  });
});
