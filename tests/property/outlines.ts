/** Outlines of lawns and islands as fast-check values: plausible shapes, then what spoils them. */
import fc from "fast-check";
import { seeded } from "../../src/physics/coverage/seeded.ts";
import type { Xy } from "../support/plane.ts";
import { blob } from "../support/random-site.ts";

/** Lengths are whole centimetres so that counterexamples shrink to round figures. */
export const centimetres = (least: number, most: number): fc.Arbitrary<number> =>
  fc.integer({ min: Math.round(100 * least), max: Math.round(100 * most) }).map((cm) => cm / 100);
export const degrees = fc.integer({ min: 0, max: 359 });
const seeds = fc.integer({ min: 0, max: 2 ** 31 - 1 });

export const turned = (points: readonly Xy[], deg: number, [mx, my]: Xy = [0, 0]): Xy[] => {
  const [c, s] = [Math.cos((deg * Math.PI) / 180), Math.sin((deg * Math.PI) / 180)];
  return points.map(([x, y]) => [mx + c * x - s * y, my + s * x + c * y]);
};

const box = (x0: number, y0: number, x1: number, y1: number): Xy[] => [
  [x0, y0],
  [x1, y0],
  [x1, y1],
  [x0, y1],
];

const arms = fc.tuple(
  centimetres(1.2, 9),
  centimetres(1.2, 9),
  centimetres(0.5, 4),
  centimetres(0.5, 4),
);

const rectangleShape = fc
  .tuple(centimetres(1, 20), centimetres(1, 14))
  .map(([w, h]): Xy[] => box(0, 0, w, h));
const lShape = arms.map(([a, b, c, d]): Xy[] => [
  [0, 0],
  [a + c, 0],
  [a + c, d],
  [c, d],
  [c, b + d],
  [0, b + d],
]);
const uShape = arms.map(([a, b, c, d]): Xy[] => [
  [0, 0],
  [a + 2 * c, 0],
  [a + 2 * c, b + d],
  [a + c, b + d],
  [a + c, d],
  [c, d],
  [c, b + d],
  [0, b + d],
]);
const tShape = arms.map(([a, b, c, d]): Xy[] => [
  [a, 0],
  [a + c, 0],
  [a + c, b],
  [2 * a + c, b],
  [2 * a + c, b + d],
  [0, b + d],
  [0, b],
  [a, b],
]);
/** Two rooms and a neck between them, straight or slanting, tapering or even. */
const neckShape = fc
  .tuple(
    fc.tuple(centimetres(2, 8), centimetres(2, 8), centimetres(2, 8), centimetres(2, 8)),
    fc.tuple(centimetres(0.2, 3), centimetres(0.2, 3), centimetres(0, 4), centimetres(-3, 3)),
  )
  .map(([[w1, h1, w2, h2], [mouth1, mouth2, length, slant]]): Xy[] => {
    const [g1, g2] = [Math.min(mouth1, h1 - 0.2), Math.min(mouth2, h2 - 0.2)];
    const x = w1 + length + 0.01;
    const y = (h1 - h2) / 2 + slant;
    return [
      [0, 0],
      [w1, 0],
      [w1, (h1 - g1) / 2],
      [x, y + (h2 - g2) / 2],
      [x, y],
      [x + w2, y],
      [x + w2, y + h2],
      [x, y + h2],
      [x, y + (h2 + g2) / 2],
      [w1, (h1 + g1) / 2],
      [w1, h1],
      [0, h1],
    ];
  });
const blobShape = fc
  .tuple(
    seeds,
    centimetres(1, 11),
    fc.integer({ min: 5, max: 70 }),
    fc.integer({ min: 0, max: 50 }),
  )
  .map(([seed, radius, corners, swing]): Xy[] =>
    blob(seeded(seed), [radius, radius], radius, corners, swing / 100),
  );
/** Teeth and gaps of any width along a spine. */
const combShape = fc
  .tuple(
    centimetres(0.6, 3),
    fc.array(fc.tuple(centimetres(0.3, 3), centimetres(0.2, 2), centimetres(0.3, 5)), {
      minLength: 1,
      maxLength: 4,
    }),
  )
  .map(([spine, teeth]): Xy[] => {
    const top: Xy[] = [];
    let x = 0;
    for (const [width, gap, height] of teeth) {
      top.push([x, spine + height], [x + width, spine + height]);
      x += width;
      if (top.length < 4 * teeth.length - 2) {
        top.push([x, spine], [x + gap, spine]);
        x += gap;
      }
    }
    const right = top[top.length - 1]![0];
    return [[0, 0], [right, 0], ...top.reverse()];
  });
const tinyShape = fc
  .tuple(centimetres(0.3, 2.2), centimetres(0.3, 2.2))
  .map(([w, h]): Xy[] => box(0, 0, w, h));
/** Corners at any distance from a middle: points, bays, needles. */
const starShape = fc
  .array(centimetres(0.8, 8), { minLength: 3, maxLength: 14 })
  .map((radii): Xy[] =>
    radii.map((r, i) => {
      const angle = (2 * Math.PI * i) / radii.length;
      return [8 + r * Math.cos(angle), 8 + r * Math.sin(angle)];
    }),
  );

/** What a pencil, a receiver or a bad export does to an outline. */
type Spoil = (ring: readonly Xy[]) => Xy[];

const place = fc.integer({ min: 0, max: 999 });

function cutIn(
  ring: readonly Xy[],
  where: number,
  made: (a: Xy, u: Xy, length: number) => Xy[],
): Xy[] {
  const k = where % ring.length;
  const a = ring[k]!;
  const b = ring[(k + 1) % ring.length]!;
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  if (length < 1e-6) return [...ring];
  const u: Xy = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
  return [...ring.slice(0, k + 1), ...made(a, u, length), ...ring.slice(k + 1)];
}

const on = ([ax, ay]: Xy, [ux, uy]: Xy, along: number, left: number): Xy => [
  ax + along * ux - left * uy,
  ay + along * uy + left * ux,
];

const noise = fc.tuple(seeds, fc.integer({ min: 1, max: 30 }), centimetres(0.15, 2)).map(
  ([seed, mm, step]): Spoil =>
    (ring) => {
      const random = seeded(seed);
      const shaken = () => ((2 * random() - 1) * mm) / 1000;
      return ring.flatMap((a, i) => {
        const b = ring[(i + 1) % ring.length]!;
        const pieces = Math.min(
          40,
          Math.max(1, Math.round(Math.hypot(b[0] - a[0], b[1] - a[1]) / step)),
        );
        return Array.from(
          { length: pieces },
          (_, k): Xy => [
            a[0] + ((b[0] - a[0]) * k) / pieces + shaken(),
            a[1] + ((b[1] - a[1]) * k) / pieces + shaken(),
          ],
        );
      });
    },
);
/** A point again, up to 3 mm off, in any direction. */
const nearDuplicate = fc.tuple(place, fc.integer({ min: 0, max: 30 }), degrees).map(
  ([where, tenths, deg]): Spoil =>
    (ring) => {
      const k = where % ring.length;
      const off = turned([[tenths / 10_000, 0]], deg, ring[k]!);
      return [...ring.slice(0, k + 1), ...off, ...ring.slice(k + 1)];
    },
);
const collinear = fc
  .tuple(place, fc.array(fc.integer({ min: 1, max: 999 }), { minLength: 1, maxLength: 12 }))
  .map(
    ([where, shares]): Spoil =>
      (ring) =>
        cutIn(ring, where, (a, u, length) =>
          [...new Set(shares)].sort((x, y) => x - y).map((s) => on(a, u, (s / 1000) * length, 0)),
        ),
  );
/** Out and back, 0 to 3 mm wide, to either side. */
const spike = fc
  .tuple(
    place,
    fc.integer({ min: 10, max: 990 }),
    centimetres(-1.5, 1.5),
    fc.integer({ min: 0, max: 30 }),
  )
  .map(
    ([where, share, depth, tenths]): Spoil =>
      (ring) =>
        cutIn(ring, where, (a, u, length) => {
          const s = (share / 1000) * length;
          return [
            on(a, u, s, 0),
            on(a, u, s + tenths / 20_000, depth),
            on(a, u, s + tenths / 10_000, 0),
          ];
        }),
  );
/** A slit or a tongue of 1 to 60 mm, or a bay as wide as a passage. */
const notch = fc
  .tuple(
    place,
    fc.integer({ min: 10, max: 990 }),
    centimetres(-2, 2),
    fc.oneof(fc.integer({ min: 1, max: 60 }), fc.integer({ min: 60, max: 2500 })),
  )
  .map(
    ([where, share, depth, mm]): Spoil =>
      (ring) =>
        cutIn(ring, where, (a, u, length) => {
          const s = (share / 1000) * length;
          const w = Math.min(mm / 1000, length - s);
          return [on(a, u, s, 0), on(a, u, s, depth), on(a, u, s + w, depth), on(a, u, s + w, 0)];
        }),
  );
const rounded = fc.constantFrom(1000, 100, 20).map(
  (per): Spoil =>
    (ring) =>
      ring.map(([x, y]) => [Math.round(x * per) / per, Math.round(y * per) / per]),
);

const spoils = fc.array(
  fc.oneof(
    { weight: 2, arbitrary: noise },
    { weight: 1, arbitrary: nearDuplicate },
    { weight: 1, arbitrary: collinear },
    { weight: 1, arbitrary: spike },
    { weight: 2, arbitrary: notch },
    { weight: 1, arbitrary: rounded },
  ),
  { maxLength: 3 },
);

function spoilt(shape: fc.Arbitrary<Xy[]>): fc.Arbitrary<Xy[]> {
  return fc.tuple(shape, spoils).map(([ring, list]) => list.reduce((r, spoil) => spoil(r), ring));
}

export const lawnOutline: fc.Arbitrary<Xy[]> = spoilt(
  fc.oneof(
    { weight: 3, arbitrary: rectangleShape },
    { weight: 3, arbitrary: lShape },
    { weight: 2, arbitrary: uShape },
    { weight: 2, arbitrary: tShape },
    { weight: 5, arbitrary: neckShape },
    { weight: 6, arbitrary: blobShape },
    { weight: 2, arbitrary: combShape },
    { weight: 1, arbitrary: tinyShape },
    { weight: 2, arbitrary: starShape },
  ),
);

/** About the origin. */
export const islandOutline: fc.Arbitrary<Xy[]> = fc.oneof(
  fc
    .tuple(centimetres(0.05, 1.6), centimetres(0.05, 1.2), degrees)
    .map(([w, h, deg]) => turned(box(-w, -h, w, h), deg)),
  fc
    .tuple(
      seeds,
      centimetres(0.1, 1.8),
      fc.integer({ min: 3, max: 24 }),
      fc.integer({ min: 0, max: 45 }),
    )
    .map(([seed, radius, corners, swing]) =>
      blob(seeded(seed), [0, 0], radius, corners, swing / 100),
    ),
  // A strip: a hedge, a rill, a low wall.
  fc
    .tuple(centimetres(0.5, 4), centimetres(0.01, 0.15), degrees)
    .map(([w, h, deg]) => turned(box(-w, -h, w, h), deg)),
);
