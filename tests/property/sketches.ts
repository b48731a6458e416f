/**
 * Ugly but plausible sites as fast-check values. One seed gives one sketch, and a sketch that
 * breaks a rule shrinks: to fewer pieces, smaller figures, the built-in machine.
 */
import fc from "fast-check";
import { PROFILE_NAMES } from "../../src/profile/names.ts";
import type { Xy } from "../support/plane.ts";
import { centimetres, degrees, islandOutline, lawnOutline, turned } from "./outlines.ts";
import type { Attributes, Piece, Sketch } from "./sketch.ts";

const share = fc.integer({ min: 0, max: 1000 }).map((s) => s / 1000);
/** Given once in `oneIn`. */
const rarely = <T>(one: fc.Arbitrary<T>, oneIn: number): fc.Arbitrary<T | undefined> =>
  fc.oneof({ weight: oneIn - 1, arbitrary: fc.constant(undefined) }, { weight: 1, arbitrary: one });

const EDGES = ["fence", "wall", "hedge", "kerb", "flush", "water", "drop", "open"] as const;

/** Sets what is given; leaves out what is not. */
function given(all: Readonly<Record<string, string | number | boolean | undefined>>): Attributes {
  return Object.fromEntries(
    Object.entries(all).filter(
      (entry): entry is [string, string | number | boolean] => entry[1] !== undefined,
    ),
  );
}

const islandIs: fc.Arbitrary<Attributes> = fc.oneof(
  {
    weight: 4,
    arbitrary: rarely(centimetres(0, 1), 5).map((setin_m) => given({ role: "bed", setin_m })),
  },
  { weight: 1, arbitrary: fc.constant<Attributes>({ role: "water" }) },
  { weight: 1, arbitrary: fc.constant<Attributes>({ role: "gravel" }) },
  { weight: 1, arbitrary: fc.constant<Attributes>({ role: "keep-out" }) },
  { weight: 2, arbitrary: fc.constant<Attributes>({ role: "building" }) },
  {
    weight: 1,
    arbitrary: rarely(fc.constant("flush"), 2).map((edge) => given({ role: "paving", edge })),
  },
  {
    weight: 2,
    arbitrary: rarely(centimetres(0.02, 0.5), 2).map((height_m) =>
      given({ role: "firm", height_m }),
    ),
  },
  {
    weight: 1,
    arbitrary: fc
      .tuple(fc.constantFrom("bed", "building", "firm", "gravel"), fc.constantFrom("yes", "no"))
      .map(([role, loop]) => ({ role, loop })),
  },
);

/** Where an island lies: anywhere, by the edge, or by the island before it; gaps may be below 0. */
const spot = fc.oneof(
  { weight: 3, arbitrary: fc.record({ by: fc.constant("box" as const), u: share, v: share }) },
  {
    weight: 3,
    arbitrary: fc.record({
      by: fc.constant("edge" as const),
      u: share,
      gap: fc.oneof(centimetres(-1, 2.5), fc.constant(0)),
    }),
  },
  {
    weight: 3,
    arbitrary: fc.record({
      by: fc.constant("last" as const),
      deg: degrees,
      gap: fc.oneof(centimetres(-0.5, 2), fc.constant(0)),
    }),
  },
);
type Spot =
  | { by: "box"; u: number; v: number }
  | { by: "edge"; u: number; gap: number }
  | { by: "last"; deg: number; gap: number };

const island = fc.record({
  spot: spot as fc.Arbitrary<Spot>,
  outline: islandOutline,
  is: islandIs,
});
const tree = fc.record({
  spot: spot as fc.Arbitrary<Spot>,
  diameter: centimetres(0.05, 0.9),
  soil: rarely(centimetres(0.2, 1), 3),
});
const edgeLine = fc.record({
  from: share,
  length: share,
  off: fc.oneof(fc.constant(0), centimetres(-0.25, 0.25)),
  kind: fc.constantFrom(...EDGES),
  setin: rarely(centimetres(0, 1), 4),
});
const path = fc.record({
  u: share,
  deg: degrees,
  width: centimetres(0.2, 2),
  is: fc.constantFrom<Attributes>(
    { role: "paving", edge: "flush" },
    { role: "gravel" },
    { role: "paving" },
  ),
});
/** Another lawn beside the first: apart, nearly touching, touching, overlapping. */
const neighbour = fc.record({
  outline: lawnOutline,
  gap: fc.oneof(
    centimetres(-0.5, 3),
    fc.integer({ min: 0, max: 40 }).map((mm) => mm / 1000),
    centimetres(3, 30),
  ),
  up: centimetres(-3, 6),
  /** A flush path fills the gap. */
  path: fc.boolean(),
});

const range = (ring: readonly Xy[], k: 0 | 1): [number, number] => [
  Math.min(...ring.map((p) => p[k])),
  Math.max(...ring.map((p) => p[k])),
];

/** Point at a share of a ring's length, and the unit direction of the ring there. */
function alongRing(ring: readonly Xy[], u: number): { at: Xy; way: Xy } {
  const sides = ring.map((a, i) => {
    const b = ring[(i + 1) % ring.length]!;
    return { a, b, length: Math.hypot(b[0] - a[0], b[1] - a[1]) };
  });
  let rest = u * sides.reduce((sum, side) => sum + side.length, 0);
  for (const { a, b, length } of sides) {
    if (length > 0 && rest <= length) {
      const way: Xy = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
      return { at: [a[0] + rest * way[0], a[1] + rest * way[1]], way };
    }
    rest -= length;
  }
  return { at: ring[0]!, way: [1, 0] };
}

function placed(
  spot: Spot,
  radius: number,
  lawn: readonly Xy[],
  last: { at: Xy; radius: number } | undefined,
): Xy {
  if (spot.by === "edge") {
    const { at, way } = alongRing(lawn, spot.u);
    const inwards = radius + spot.gap;
    return [at[0] - way[1] * inwards, at[1] + way[0] * inwards];
  }
  if (spot.by === "last" && last) {
    return turned([[last.radius + radius + spot.gap, 0]], spot.deg, last.at)[0]!;
  }
  const [u, v] = spot.by === "box" ? [spot.u, spot.v] : [0.5, (spot as { deg: number }).deg / 360];
  const [x0, x1] = range(lawn, 0);
  const [y0, y1] = range(lawn, 1);
  return [x0 + u * (x1 - x0), y0 + v * (y1 - y0)];
}

/** Half the width of an outline about the origin, along the x axis it is placed by. */
const radiusOf = (outline: readonly Xy[]): number =>
  Math.max(...outline.map(([x, y]) => Math.hypot(x, y)));

const machine: fc.Arbitrary<Sketch["machine"]> = fc
  .tuple(
    fc.constantFrom(...PROFILE_NAMES),
    rarely(
      fc
        .tuple(
          centimetres(0.05, 0.8),
          centimetres(0.05, 0.8),
          centimetres(0, 0.4),
          centimetres(0.2, 1),
        )
        .map(([open, wall, flush, water]) => ({ open, wall, fence: wall, flush, water })),
      3,
    ),
    rarely(
      fc
        .tuple(centimetres(0.4, 2), centimetres(0.03, 0.3))
        .map(([spacing_max_m, wander_max_m]) => ({ spacing_max_m, wander_max_m })),
      3,
    ),
    rarely(
      fc
        .tuple(fc.integer({ min: 20, max: 170 }), fc.oneof(fc.constant(0), centimetres(0.1, 1)))
        .map(([inner_angle_min_deg, bend_radius_min_m]) => ({
          inner_angle_min_deg,
          bend_radius_min_m,
        })),
      3,
    ),
    rarely(
      fc
        .tuple(
          fc.integer({ min: 40, max: 400 }),
          fc.integer({ min: 30, max: 600 }),
          centimetres(0.1, 1.2),
        )
        .map(([length_max_m, area_max_m2, spacing_m]) => ({
          length_max_m,
          area_max_m2,
          spacing_m,
        })),
      3,
    ),
    rarely(
      fc
        .tuple(fc.integer({ min: 0, max: 1 }), centimetres(0.05, 1))
        .map(([wires, clearance_m]) => ({ wires, clearance_m })),
      4,
    ),
    rarely(
      fc.integer({ min: 5, max: 14 }).map((mm) => ({ pair_gap_m: mm / 1000 })),
      6,
    ),
    rarely(
      centimetres(0, 0.4).map((past_wire_m) => ({ past_wire_m })),
      6,
    ),
    rarely(
      fc
        .tuple(centimetres(0.3, 1.5), centimetres(0, 1), centimetres(0, 1))
        .map(([drive_min_m, more, over]) => ({
          drive_min_m,
          mow_min_m: drive_min_m + more,
          report_below_m: drive_min_m + more + over,
        })),
      4,
    ),
  )
  .map(
    ([based_on, setin_m, pegs, corners, loop, guide, wire, mowing, passage]) =>
      Object.fromEntries(
        Object.entries({
          based_on,
          setin_m,
          pegs,
          corners,
          loop,
          guide,
          wire,
          mowing,
          passage,
        }).filter(([, value]) => value !== undefined),
      ) as unknown as Sketch["machine"],
  );

export const sketches: fc.Arbitrary<Sketch> = fc
  .record({
    placing: fc.record({
      lon: fc.integer({ min: -1780, max: 1780 }).map((t) => t / 10),
      lat: fc.integer({ min: -700, max: 700 }).map((t) => t / 10),
      turnDeg: degrees,
      shift: fc.tuple(centimetres(-50, 50), centimetres(-50, 50)),
    }),
    lawn: lawnOutline,
    lawnIs: fc.record({
      edge: rarely(fc.constantFrom(...EDGES), 4),
      setin: rarely(centimetres(0, 1), 8),
    }),
    hole: rarely(fc.record({ spot: spot as fc.Arbitrary<Spot>, outline: islandOutline }), 6),
    neighbours: fc.oneof(
      { weight: 4, arbitrary: fc.constant([]) },
      { weight: 2, arbitrary: fc.array(neighbour, { minLength: 1, maxLength: 2 }) },
    ),
    islands: fc.array(island, { maxLength: 6 }),
    trees: fc.array(tree, { maxLength: 3 }),
    edgeLines: fc.array(edgeLine, { maxLength: 2 }),
    paths: fc.oneof(
      { weight: 3, arbitrary: fc.constant([]) },
      { weight: 1, arbitrary: fc.array(path, { minLength: 1, maxLength: 2 }) },
    ),
    station: rarely(fc.record({ u: share, off: centimetres(-1, 1) }), 3),
    machine,
    split: fc.oneof(
      { weight: 4, arbitrary: fc.constant(true) },
      { weight: 1, arbitrary: fc.constant(false) },
    ),
    parts: rarely(fc.constantFrom("own" as const, "carried" as const, "none" as const), 3),
  })
  .map(
    ({
      placing,
      lawn,
      lawnIs,
      hole,
      neighbours,
      islands,
      trees,
      edgeLines,
      paths,
      station,
      machine,
      split,
      parts,
    }) => {
      const pieces: Piece[] = [];
      const rings: Xy[][] = [lawn];
      if (hole) {
        const at = placed(hole.spot, radiusOf(hole.outline), lawn, undefined);
        rings.push(turned(hole.outline, 0, at).reverse());
      }
      pieces.push({
        area: rings,
        is: given({ role: "lawn", edge: lawnIs.edge, setin_m: lawnIs.setin }),
      });
      let right = range(lawn, 0)[1];
      for (const { outline, gap, up, path } of neighbours) {
        const [x0, x1] = range(outline, 0);
        const from = right + gap;
        pieces.push({
          area: [outline.map(([x, y]): Xy => [x - x0 + from, y + up])],
          is: { role: "lawn" },
        });
        if (path && gap > 0.15) {
          pieces.push({
            area: [
              [
                [right, -2],
                [from, -2],
                [from, 12],
                [right, 12],
              ],
            ],
            is: { role: "paving", edge: "flush" },
          });
        }
        right = from + x1 - x0;
      }
      let last: { at: Xy; radius: number } | undefined;
      for (const { spot, outline, is } of islands) {
        const radius = radiusOf(outline);
        const at = placed(spot, radius, lawn, last);
        last = { at, radius };
        pieces.push({ area: [turned(outline, 0, at)], is });
      }
      for (const { spot, diameter, soil } of trees) {
        const radius = soil ?? diameter / 2;
        const at = placed(spot, radius, lawn, last);
        last = { at, radius };
        // A trunk is no wider than its bare soil.
        const diameter_m = soil === undefined ? diameter : Math.min(diameter, soil);
        pieces.push({ point: at, is: given({ role: "tree", diameter_m, soil_radius_m: soil }) });
      }
      for (const { u, deg, width, is } of paths) {
        const [y0, y1] = range(lawn, 1);
        const [x0, x1] = range(lawn, 0);
        const at: Xy = [x0 + u * (x1 - x0), (y0 + y1) / 2];
        const strip: Xy[] = [
          [-30, -width / 2],
          [30, -width / 2],
          [30, width / 2],
          [-30, width / 2],
        ];
        pieces.push({ area: [turned(strip, deg, at)], is });
      }
      for (const { from, length, off, kind, setin } of edgeLines) {
        const steps = Math.max(2, Math.round(10 * length));
        const line = Array.from({ length: steps }, (_, k): Xy => {
          const { at, way } = alongRing(lawn, (from + (0.6 * length * k) / (steps - 1)) % 1);
          return [at[0] - way[1] * off, at[1] + way[0] * off];
        });
        pieces.push({ line, is: given({ role: "edge", edge: kind, setin_m: setin }) });
      }
      if (station) {
        const { at, way } = alongRing(lawn, station.u);
        pieces.push({
          point: [at[0] - way[1] * station.off, at[1] + way[0] * station.off],
          is: { role: "station" },
        });
      }
      return { placing, pieces, machine, split, ...(parts ? { parts } : {}) };
    },
  );

/** The sketch of a seed: the same on every machine as long as generator and fast-check stay. */
export function sketchOf(seed: number): Sketch {
  return fc.sample(fc.noBias(sketches), { seed, numRuns: 1 })[0]!;
}
