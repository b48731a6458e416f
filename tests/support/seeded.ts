/** Seeded random numbers and shapes for tests: the same every run. */
import type { PointM, RingM } from "../../src/model/geometry.ts";

/** Numerical Recipes' quick 32-bit congruential generator: uniform in [0, 1), enough for shapes. */
export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 4294967296;
  };
}

/** A wavy closed outline, anticlockwise, that does not cross itself (radius is a function of angle). */
export function organicRing(
  random: () => number,
  centre: PointM,
  radiusM: number,
  vertices: number,
): RingM {
  const waves = [2, 3, 5, 8].map((k) => ({
    k,
    share: (0.22 / k) * random(),
    phase: random() * 2 * Math.PI,
  }));
  const ring = new Float64Array(2 * vertices);
  for (let i = 0; i < vertices; i++) {
    const angle = (2 * Math.PI * i) / vertices;
    let r = radiusM;
    for (const wave of waves) r += radiusM * wave.share * Math.sin(wave.k * angle + wave.phase);
    ring[2 * i] = centre[0] + r * Math.cos(angle);
    ring[2 * i + 1] = centre[1] + r * Math.sin(angle);
  }
  return ring;
}
