/** Large invented lawns for tests of dividing: organic, with beds, grown trees, huts and crossed paths. */

import { seeded } from "../../src/physics/coverage/seeded.ts";
import type { Xy } from "./plane.ts";
import { blob } from "./random-site.ts";
import { inside } from "./segments.ts";
import { type Drawn, disc, Pen } from "./sites.ts";

export interface EstateWishes {
  readonly radiusM: number;
  readonly islands: number;
  readonly trees: number;
  /** 0: a disc; 0.5: bays and arms. */
  readonly swing?: number;
}

/** The same seed and wishes, the same estate. */
export function estate(
  seed: number,
  { radiusM, islands, trees, swing = 0.35 }: EstateWishes,
): Drawn {
  const random = seeded(seed);
  const pen = new Pen({ turnDeg: 360 * random() });
  const outline = blob(random, [0, 0], radiusM, 60 + Math.floor(120 * random()), swing);
  pen.lawn(outline);
  const spot = (): Xy => {
    const angle = 2 * Math.PI * random();
    const r = radiusM * Math.sqrt(random());
    return [r * Math.cos(angle), r * Math.sin(angle)];
  };
  for (let i = 0; i < islands; i++) {
    pen.bed(
      blob(random, spot(), 0.8 + 3 * random(), 10 + Math.floor(30 * random()), 0.3),
      `Bed ${i}`,
    );
  }
  for (let i = 0; i < trees; i++) {
    const at = spot();
    if (!inside(at, outline)) continue;
    const diameter = 0.3 + 0.6 * random();
    pen.point(at, { role: "tree", diameter_m: diameter, name: `Tree ${i}` });
    pen.tell({
      name: `Tree ${i}`,
      contact: "firm",
      setinM: 0.3,
      polygons: [[pen.ring(disc(at, diameter / 2, 180))]],
    });
  }
  return pen.drawn;
}
