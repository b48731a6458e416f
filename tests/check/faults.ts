/**
 * Deliberate corruptions of good plans. Each is made at a seeded random place and must be caught by
 * the rule that it breaks; other rules may be broken with it.
 */
import type { RuleId } from "../../src/check/rule-ids.ts";
import type {
  StatedLoop,
  StatedPassage,
  StatedPeg,
  StatedPlan,
} from "../../src/check/stated/stated-plan.ts";
import { SegmentIndex } from "../../src/geometry/segment-index.ts";
import type { PointM, RingM } from "../../src/model/geometry.ts";
import type { Profile } from "../../src/model/profile.ts";
import type { Site, Thing } from "../../src/model/site.ts";
import { isSimpleLine } from "../support/topology.ts";
import type { Good } from "./plans.ts";

export interface Spoilt {
  readonly site: Site;
  readonly profile: Profile;
  readonly plan: StatedPlan;
}

export interface Fault {
  readonly name: string;
  readonly breaks: RuleId;
  /** The corrupted plan; undefined where the plan has no place for this fault. */
  spoil(good: Good, random: () => number): Spoilt | undefined;
}

type Change<T> = { -readonly [K in keyof T]: T[K] };

const pick = <T>(list: readonly T[], random: () => number): T | undefined =>
  list[Math.floor(random() * list.length)];

/** The plan with one loop changed. */
function withLoop(
  good: Good,
  random: () => number,
  change: (loop: Change<StatedLoop>) => boolean | undefined,
): Spoilt | undefined {
  const plan = structuredClone({ ...good.plan });
  const loop = pick(plan.loops, random) as Change<StatedLoop> | undefined;
  if (!loop || change(loop) === false) return undefined;
  return { site: good.site, profile: good.profile, plan };
}

const vertex = (wire: RingM, i: number): PointM => {
  const n = wire.length >> 1;
  const k = 2 * (((i % n) + n) % n);
  return [wire[k]!, wire[k + 1]!];
};

function setVertex(wire: RingM, i: number, [e, n]: PointM): void {
  const count = wire.length >> 1;
  const k = 2 * (((i % count) + count) % count);
  wire[k] = e;
  wire[k + 1] = n;
}

const apart = (a: PointM, b: PointM): number => Math.hypot(a[0] - b[0], a[1] - b[1]);

/** Unit vector out of the wire (to its right) at a vertex, from its neighbours. */
function outward(wire: RingM, i: number): PointM {
  const [a, b] = [vertex(wire, i - 1), vertex(wire, i + 1)];
  const d = apart(a, b);
  return [(b[1] - a[1]) / d, -(b[0] - a[0]) / d];
}

const moved = (at: PointM, by: PointM, m: number): PointM => [at[0] + m * by[0], at[1] + m * by[1]];

/** Vertices away from pairs, their neighbours as well, and not the first. */
function singleVertices(loop: StatedLoop): number[] {
  const paired = (loop.pegs ?? []).filter((peg) => peg.secondChainageM !== undefined);
  const runs = (loop.pairedRuns ?? []).flatMap(({ line }) => points(line));
  const isFree = (i: number): boolean => {
    const at = vertex(loop.wire, i);
    return [...paired.map((peg) => peg.atM), ...runs].every((other) => apart(other, at) > 1.2);
  };
  const n = loop.wire.length >> 1;
  return Array.from({ length: n }, (_, i) => i).filter((i) => i > 2 && i < n - 6 && isFree(i));
}

/** Whether a place lies by an edge: not where the wire closes a way too narrow, with lawn beyond. */
function isAlongEdge({ site }: Good, [e, n]: PointM): boolean {
  const areas = [...site.lawns.map(({ area }) => area), ...site.things.flatMap((t) => t.areas)];
  const index = new SegmentIndex(areas.flatMap((area) => [area.shell, ...area.holes]));
  return index.nearest(e, n, 0.55) !== undefined;
}

function points(line: Float64Array): PointM[] {
  return Array.from({ length: line.length >> 1 }, (_, i) => [line[2 * i]!, line[2 * i + 1]!]);
}

function withVertices(wire: RingM, after: number, added: readonly PointM[]): RingM {
  const all = points(wire);
  all.splice(after + 1, 0, ...added);
  return Float64Array.from(all.flat());
}

function pegAt(loop: StatedLoop, at: PointM): Change<StatedPeg> | undefined {
  return loop.pegs?.find((peg) => apart(peg.atM, at) < 0.005);
}

/** A firm or soft square round a place. */
function square(atM: PointM, halfM: number, contact: Thing["contact"]): Thing {
  const [e, n] = atM;
  const shell = Float64Array.of(
    e - halfM,
    n - halfM,
    e + halfM,
    n - halfM,
    e + halfM,
    n + halfM,
    e - halfM,
    n + halfM,
  );
  return {
    id: "extra-1",
    role: contact === "firm" ? "firm" : "bed",
    name: "Extra",
    areas: [{ shell, holes: [] }],
    contact,
    edgeKind: contact === "firm" ? "wall" : "open",
    source: {},
  };
}

const withThing = (good: Good, thing: Thing): Spoilt => ({
  ...good,
  site: { ...good.site, things: [...good.site.things, thing] },
});

/** The site with a square in which no wire may lie. */
function withNoWire(good: Good, atM: PointM, halfM: number): Spoilt {
  const [area] = square(atM, halfM, "loop").areas;
  const barred = {
    area: area!,
    factor: "barred",
    why: "no-wire",
    name: "Play",
    source: {},
  } as const;
  return { ...good, site: { ...good.site, runGround: [barred] } };
}

/** A place on a line, away from its ends. */
function middleOf(line: readonly PointM[], random: () => number): PointM {
  const i = Math.floor(random() * (line.length - 1));
  const [[ae, an], [be, bn]] = [line[i]!, line[i + 1]!];
  const share = 0.4 + 0.2 * random();
  return [ae + share * (be - ae), an + share * (bn - an)];
}

/** A run from the boundary and the wire's vertices at its beginning: out, and back. */
function detour(loop: StatedLoop, random: () => number) {
  const runs = (loop.pairedRuns ?? []).filter((run) => run.from === "boundary");
  const run = pick(runs, random);
  if (!run) return undefined;
  const start = points(run.line)[0]!;
  const near = points(loop.wire).flatMap((at, i) => (apart(at, start) < 0.012 ? [i] : []));
  if (near.length < 2) return undefined;
  return { run, from: near[0]!, to: near[near.length - 1]! };
}

/** A vertex inside a run, on one of its two wires, with the direction across the pair. */
function pairVertex(loop: StatedLoop, random: () => number) {
  const pegs = (loop.pegs ?? []).filter((peg) => peg.on === "pair");
  const peg = pick(pegs, random);
  if (!peg) return undefined;
  const i = points(loop.wire).findIndex((at) => apart(at, peg.atM) < 0.01);
  if (i < 1) return undefined;
  return { i, out: outward(loop.wire, i) };
}

export const FAULTS: readonly Fault[] = [
  {
    name: "a peg 5 cm beside the wire",
    breaks: "pegs-on-wire",
    spoil: (good, random) =>
      withLoop(good, random, (loop) => {
        const i = pick(singleVertices(loop), random);
        const peg = i !== undefined && pegAt(loop, vertex(loop.wire, i));
        if (!peg) return false;
        peg.atM = moved(peg.atM, outward(loop.wire, i), 0.05);
      }),
  },
  {
    name: "a peg and its wire 0.25 m nearer to the edge",
    breaks: "set-in",
    spoil: (good, random) =>
      withLoop(good, random, (loop) => {
        const i = pick(singleVertices(loop), random);
        if (i === undefined || good.plan.loops.length > 1) return false;
        if (!isAlongEdge(good, vertex(loop.wire, i))) return false;
        const to = moved(vertex(loop.wire, i), outward(loop.wire, i), 0.25);
        const peg = pegAt(loop, vertex(loop.wire, i));
        if (peg) peg.atM = to;
        setVertex(loop.wire, i, to);
      }),
  },
  {
    name: "a bend 5 cm from its peg",
    breaks: "vertices-on-pegs",
    spoil: (good, random) =>
      withLoop(good, random, (loop) => {
        const i = pick(singleVertices(loop), random);
        if (i === undefined) return false;
        setVertex(loop.wire, i, moved(vertex(loop.wire, i), outward(loop.wire, i), -0.05));
      }),
  },
  {
    name: "numbers of two pegs changed over",
    breaks: "peg-numbers",
    spoil: (good, random) =>
      withLoop(good, random, (loop) => {
        const [a, b] = [
          pick(loop.pegs!, random)!,
          pick(loop.pegs!, random)!,
        ] as Change<StatedPeg>[];
        if (a === b) return false;
        [a!.number, b!.number] = [b!.number, a!.number];
      }),
  },
  {
    name: "places of two pegs changed over",
    breaks: "chainage",
    spoil: (good, random) =>
      withLoop(good, random, (loop) => {
        const [a, b] = [
          pick(loop.pegs!, random)!,
          pick(loop.pegs!, random)!,
        ] as Change<StatedPeg>[];
        if (a === b) return false;
        [a!.atM, b!.atM] = [b!.atM, a!.atM];
      }),
  },
  {
    name: "a peg number twice",
    breaks: "peg-numbers",
    spoil: (good, random) =>
      withLoop(good, random, (loop) => {
        const [a, b] = [
          pick(loop.pegs!, random)!,
          pick(loop.pegs!, random)!,
        ] as Change<StatedPeg>[];
        if (a === b) return false;
        a!.number = b!.number;
      }),
  },
  {
    name: "a peg missing",
    breaks: "vertices-on-pegs",
    spoil: (good, random) =>
      withLoop(good, random, (loop) => {
        const i = pick(singleVertices(loop), random);
        const peg = i !== undefined && pegAt(loop, vertex(loop.wire, i));
        if (!peg) return false;
        loop.pegs = loop.pegs!.filter((one) => one !== peg);
      }),
  },
  {
    name: "two pegs on end missing with their vertices",
    breaks: "spans",
    spoil: (good, random) =>
      withLoop(good, random, (loop) => {
        const i = pick(singleVertices(loop), random);
        if (i === undefined) return false;
        const gone = [vertex(loop.wire, i), vertex(loop.wire, i + 1)];
        const wayM = apart(vertex(loop.wire, i - 1), vertex(loop.wire, i + 2));
        if (wayM < 1.1) return false;
        loop.pegs = loop.pegs!.filter((peg) => gone.every((at) => apart(at, peg.atM) > 0.005));
        loop.wire = Float64Array.from(
          points(loop.wire)
            .filter((_, k) => k !== i && k !== i + 1)
            .flat(),
        );
      }),
  },
  {
    name: "two vertices changed over",
    breaks: "simple",
    spoil: (good, random) =>
      withLoop(good, random, (loop) => {
        const i = pick(singleVertices(loop), random);
        if (i === undefined) return false;
        const [a, b] = [vertex(loop.wire, i), vertex(loop.wire, i + 3)];
        setVertex(loop.wire, i, b);
        setVertex(loop.wire, i + 3, a);
        // On a bend the two may change places without a crossing: JTS says.
        return !isSimpleLine([...points(loop.wire), vertex(loop.wire, 0)]);
      }),
  },
  {
    name: "a vertex thrown over another stretch of wire",
    breaks: "simple",
    spoil: (good, random) =>
      withLoop(good, random, (loop) => {
        const free = singleVertices(loop);
        const [i, j] = [pick(free, random), pick(free, random)];
        if (i === undefined || j === undefined || Math.abs(i - j) < 4) return false;
        const [a, b] = [vertex(loop.wire, j), vertex(loop.wire, j + 1)];
        const middle: PointM = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
        setVertex(loop.wire, i, moved(middle, outward(loop.wire, j), 0.2));
        // Whether it crosses anything there, JTS says.
        const closed = [...points(loop.wire), vertex(loop.wire, 0)];
        return !isSimpleLine(closed);
      }),
  },
  {
    name: "a spike out and back",
    breaks: "simple",
    spoil: (good, random) =>
      withLoop(good, random, (loop) => {
        const i = pick(singleVertices(loop), random);
        if (i === undefined) return false;
        const at = vertex(loop.wire, i);
        const tip = moved(at, outward(loop.wire, i), -0.2);
        loop.wire = withVertices(loop.wire, i, [tip, at]);
      }),
  },
  {
    name: "a vertex off the lawn",
    breaks: "on-lawn",
    spoil: (good, random) =>
      withLoop(good, random, (loop) => {
        const i = pick(singleVertices(loop), random);
        if (i === undefined || good.plan.loops.length > 1) return false;
        if (!isAlongEdge(good, vertex(loop.wire, i))) return false;
        // Far enough for a pond's set-in too.
        setVertex(loop.wire, i, moved(vertex(loop.wire, i), outward(loop.wire, i), 1.4));
      }),
  },
  {
    name: "the wire reversed",
    breaks: "winding",
    spoil: (good, random) =>
      withLoop(good, random, (loop) => {
        loop.wire = Float64Array.from(points(loop.wire).reverse().flat());
      }),
  },
  {
    name: "the direction stated the other way",
    breaks: "direction",
    spoil: (good, random) =>
      withLoop(good, random, (loop) => {
        loop.direction = "clockwise";
      }),
  },
  {
    name: "the loop open",
    breaks: "closed",
    spoil: (good, random) =>
      withLoop(good, random, (loop) => {
        const n = loop.wire.length >> 1;
        loop.openM = apart(vertex(loop.wire, 0), vertex(loop.wire, n - 1));
      }),
  },
  {
    name: "an island left in",
    breaks: "shut-out",
    spoil: (good, random) =>
      withLoop(good, random, (loop) => {
        const found = detour(loop, random);
        if (!found) return false;
        loop.wire = Float64Array.from(
          points(loop.wire)
            .filter((_, i) => i <= found.from || i > found.to)
            .flat(),
        );
      }),
  },
  {
    name: "a bed that nobody planned for",
    breaks: "shut-out",
    spoil: (good, random) => {
      const loop = pick(good.plan.loops, random)!;
      const i = pick(singleVertices(loop), random);
      if (i === undefined) return undefined;
      const at = moved(vertex(loop.wire, i), outward(loop.wire, i), -0.4);
      return withThing(good, square(at, 0.2, "loop"));
    },
  },
  {
    name: "the ring round an island turned",
    breaks: "ring-direction",
    spoil: (good, random) =>
      withLoop(good, random, (loop) => {
        const exclusion = pick(loop.exclusionLoops ?? [], random);
        if (!exclusion) return false;
        const ring = points(exclusion.ring);
        const on = points(loop.wire).flatMap((at, i) =>
          ring.some((other) => apart(at, other) < 0.012) ? [i] : [],
        );
        const [first, last] = [on[0], on[on.length - 1]];
        // A ring that other runs set out from comes in several stretches.
        if (first === undefined || last! - first + 1 !== on.length) return false;
        const places = on.map((i) => vertex(loop.wire, i)).reverse();
        on.forEach((i, k) => {
          setVertex(loop.wire, i, places[k]!);
        });
      }),
  },
  {
    name: "a stated exclusion loop 5 cm aside",
    breaks: "exclusion-loops",
    spoil: (good, random) =>
      withLoop(good, random, (loop) => {
        const exclusion = pick(loop.exclusionLoops ?? [], random);
        if (!exclusion) return false;
        for (let i = 0; i < exclusion.ring.length; i += 2) exclusion.ring[i]! += 0.05;
      }),
  },
  {
    name: "the wires of a pair 5 cm apart",
    breaks: "pair-gap",
    spoil: (good, random) =>
      withLoop(good, random, (loop) => {
        const found = pairVertex(loop, random);
        if (!found) return false;
        const at = vertex(loop.wire, found.i);
        setVertex(loop.wire, found.i, moved(at, found.out, -0.05));
      }),
  },
  {
    name: "one wire of a pair laid over the other",
    breaks: "pair-gap",
    spoil: (good, random) =>
      withLoop(good, random, (loop) => {
        const found = pairVertex(loop, random);
        if (!found) return false;
        const at = vertex(loop.wire, found.i);
        setVertex(loop.wire, found.i, moved(at, found.out, good.profile.wire.pairGapM));
      }),
  },
  {
    name: "a pair whose two wires run the same way",
    breaks: "pair-opposite",
    spoil: (good, random) =>
      withLoop(good, random, (loop) => {
        const i = singleVertices(loop).find(
          (k) => apart(vertex(loop.wire, k), vertex(loop.wire, k + 1)) > 0.8,
        );
        if (i === undefined) return false;
        const [a, b] = [vertex(loop.wire, i), vertex(loop.wire, i + 1)];
        const d = apart(a, b);
        const right: PointM = [(b[1] - a[1]) / d, -(b[0] - a[0]) / d];
        const [c, e] = [moved(b, right, -0.3), moved(a, right, -0.3)];
        const [f, g] = [moved(a, right, 0.01), moved(b, right, 0.01)];
        loop.wire = withVertices(loop.wire, i, [b, c, e, f, g]);
        const line = Float64Array.of(...moved(a, right, 0.005), ...moved(b, right, 0.005));
        loop.pairedRuns = [{ line, from: "boundary", to: "Bed", lengthM: d }];
      }),
  },
  {
    name: "a wire length 5 cm wrong",
    breaks: "lengths",
    spoil: (good, random) =>
      withLoop(good, random, (loop) => {
        loop.lengthM = loop.lengthM! + (random() < 0.5 ? 0.05 : -0.05);
      }),
  },
  {
    name: "a wire length that is no number",
    breaks: "lengths",
    spoil: (good, random) =>
      withLoop(good, random, (loop) => {
        loop.lengthM = Number.NaN;
      }),
  },
  {
    name: "the length of a run 1 cm wrong",
    breaks: "lengths",
    spoil: (good, random) =>
      withLoop(good, random, (loop) => {
        const run = pick(loop.pairedRuns ?? [], random) as { lengthM: number } | undefined;
        if (!run) return false;
        run.lengthM += 0.01;
      }),
  },
  {
    name: "the length of an exclusion loop 1 cm wrong",
    breaks: "lengths",
    spoil: (good, random) =>
      withLoop(good, random, (loop) => {
        const ring = pick(loop.exclusionLoops ?? [], random) as { lengthM: number } | undefined;
        if (!ring) return false;
        ring.lengthM -= 0.01;
      }),
  },
  {
    name: "a distance along the wire 2 cm wrong",
    breaks: "chainage",
    spoil: (good, random) =>
      withLoop(good, random, (loop) => {
        const peg = pick(loop.pegs!, random) as Change<StatedPeg>;
        peg.chainageM = peg.chainageM! + 0.02;
      }),
  },
  {
    name: "a second distance left out",
    breaks: "chainage",
    spoil: (good, random) =>
      withLoop(good, random, (loop) => {
        const twice = loop.pegs!.filter((peg) => (peg.secondChainageM ?? 0) > peg.chainageM! + 0.1);
        const peg = pick(twice, random) as Change<StatedPeg> | undefined;
        if (!peg) return false;
        peg.secondChainageM = undefined;
      }),
  },
  {
    name: "a second distance 5 cm wrong",
    breaks: "chainage",
    spoil: (good, random) =>
      withLoop(good, random, (loop) => {
        const twice = loop.pegs!.filter((peg) => peg.secondChainageM !== undefined);
        const peg = pick(twice, random) as Change<StatedPeg> | undefined;
        if (!peg) return false;
        peg.secondChainageM = peg.secondChainageM! - 0.05;
      }),
  },
  {
    name: "an edge kind ignored: water along a stretch",
    breaks: "set-in",
    spoil: (good, random) => {
      const lawn = pick(good.site.lawns, random)!;
      const shell = points(lawn.area.shell);
      const from = Math.floor(random() * shell.length);
      const line = Array.from(
        { length: Math.ceil(shell.length / 3) },
        (_, k) => shell[(from + k) % shell.length]!,
      );
      const edge = { kind: "water" as const, line: Float64Array.from(line.flat()), source: {} };
      return { ...good, site: { ...good.site, edgeLines: [...good.site.edgeLines, edge] } };
    },
  },
  {
    name: "a lawn's own set-in ignored",
    breaks: "set-in",
    spoil: (good) => ({
      ...good,
      site: { ...good.site, lawns: good.site.lawns.map((lawn) => ({ ...lawn, setinM: 0.6 })) },
    }),
  },
  {
    name: "the whole wire 2 m aside",
    breaks: "on-lawn",
    spoil: (good, random) =>
      withLoop(good, random, (loop) => {
        for (let i = 0; i < loop.wire.length; i += 2) loop.wire[i]! += 2;
      }),
  },
  {
    name: "a post a centimetre inside the wire",
    breaks: "firm-clear",
    spoil: (good, random) => {
      const loop = pick(good.plan.loops, random)!;
      const i = pick(singleVertices(loop), random);
      if (i === undefined) return undefined;
      const [a, b] = [vertex(loop.wire, i), vertex(loop.wire, i + 1)];
      const middle: PointM = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
      const right = [(b[1] - a[1]) / apart(a, b), -(b[0] - a[0]) / apart(a, b)] as const;
      // A square's corner may lie √2 of its half side from its middle.
      const half = 0.05;
      const reach = half * (Math.abs(right[0]) + Math.abs(right[1])) + 0.01;
      return withThing(good, square(moved(middle, right, -reach), half, "firm"));
    },
  },
  {
    name: "a tongue of wire to 0.2 m from the other side",
    breaks: "passages",
    spoil: (good, random) =>
      withLoop(good, random, (loop) => {
        const i = pick(singleVertices(loop), random);
        if (i === undefined) return false;
        const [a, b] = [vertex(loop.wire, i), vertex(loop.wire, i + 1)];
        const d = apart(a, b);
        if (d < 0.5) return false;
        const left: PointM = [-(b[1] - a[1]) / d, (b[0] - a[0]) / d];
        const along: PointM = [(b[0] - a[0]) / d, (b[1] - a[1]) / d];
        const middle: PointM = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
        const farM = Math.min(
          ...[-0.15, 0, 0.15].map((off) => hitM(loop.wire, i, moved(middle, along, off), left)),
        );
        if (!(farM > 4 && farM < 60)) return false;
        const depth = farM - 0.2;
        const feet = [moved(middle, along, -0.15), moved(middle, along, 0.15)] as const;
        loop.wire = withVertices(loop.wire, i, [
          feet[0],
          moved(feet[0], left, depth),
          moved(feet[1], left, depth),
          feet[1],
        ]);
        // A pair across the way is driven over: not what this fault is about.
        loop.pairedRuns = undefined;
        const far = moved(middle, left, farM);
        const runs = good.plan.loops.flatMap((one) => one.pairedRuns ?? []);
        if (runs.some(({ line }) => points(line).some((at) => apart(at, far) < 3))) return false;
      }),
  },
  {
    name: "one loop for more lawn than a machine mows",
    breaks: "loop-area",
    spoil: (good) => ({
      ...good,
      profile: { ...good.profile, loop: { ...good.profile.loop, areaMaxM2: 50 } },
    }),
  },
  {
    name: "a loop longer than the machine's signal carries",
    breaks: "loop-length",
    spoil: (good) => ({
      ...good,
      profile: {
        ...good.profile,
        loop: { ...good.profile.loop, lengthMaxM: good.plan.loops[0]!.lengthM! - 0.5 },
      },
    }),
  },
  {
    name: "two loops half as far apart as asked",
    breaks: "loop-spacing",
    spoil: (good, random) => {
      if (good.plan.loops.length < 2 || !good.name.startsWith("estate")) return undefined;
      const plan = structuredClone({ ...good.plan });
      const [a, b] = plan.loops.slice(0, 2).map((loop) => points(loop.wire));
      let [best, bestM]: [readonly [PointM, PointM] | undefined, number] = [undefined, Infinity];
      for (const p of a!) {
        for (const q of b!) if (apart(p, q) < bestM) [best, bestM] = [[p, q], apart(p, q)];
      }
      if (!best || bestM > 1.6) return undefined;
      const [p, q] = best;
      const share = (0.4 + 0.2 * random()) / bestM;
      const { wire } = plan.loops[1]!;
      for (let i = 0; i < wire.length; i += 2) {
        wire[i]! += share * (p[0] - q[0]);
        wire[i + 1]! += share * (p[1] - q[1]);
      }
      return { ...good, plan };
    },
  },
  {
    name: "a loop inside another",
    breaks: "loop-spacing",
    spoil: (good, random) => {
      const plan = structuredClone({ ...good.plan });
      const loop = pick(plan.loops, random)!;
      const i = pick(singleVertices(loop), random);
      if (i === undefined) return undefined;
      const at = moved(vertex(loop.wire, i), outward(loop.wire, i), -0.7);
      const wire = square(at, 0.3, "loop").areas[0]!.shell;
      const inner: StatedLoop = { ...loop, name: "Z", wire, pegs: undefined, station: undefined };
      return { ...good, plan: { ...plan, loops: [...plan.loops, inner] } };
    },
  },
  {
    name: "a station half a metre from its wire",
    breaks: "station",
    spoil: (good, random) =>
      withLoop(good, random, (loop) => {
        const at = loop.station!;
        loop.station = { ...at, atM: moved(at.atM, outward(loop.wire, 0), 0.5) };
      }),
  },
  {
    name: "a station that faces away",
    breaks: "station",
    spoil: (good, random) =>
      withLoop(good, random, (loop) => {
        const { station } = loop;
        loop.station = { ...station!, bearingDeg: station!.bearingDeg! + 20 + 300 * random() };
      }),
  },
  {
    name: "more straight wire at the station than there is",
    breaks: "station",
    spoil: (good, random) =>
      withLoop(good, random, (loop) => {
        loop.station = { ...loop.station!, straightM: loop.station!.straightM! + 0.1 };
      }),
  },
  {
    name: "a station on a corner although there is a straight run",
    breaks: "station-straight",
    spoil: (good, random) =>
      withLoop(good, random, (loop) => {
        const wanted = good.profile.station;
        const { straightM } = loop.station!;
        // Only where the plan found a place beyond doubt.
        if (straightM! < wanted.straightM + good.profile.pegs.spacingMaxM) return false;
        const bends = points(loop.wire).flatMap((_, i) =>
          i > 1 && turns(loop.wire, i) ? [i] : [],
        );
        const i = pick(bends, random);
        if (i === undefined) return false;
        const all = points(loop.wire);
        loop.wire = Float64Array.from([...all.slice(i), ...all.slice(0, i)].flat());
        loop.station = { ...loop.station!, atM: all[i]!, given: false };
      }),
  },
  {
    name: "a guide wire said to keep more than it does",
    breaks: "guide-wires",
    spoil: (good, random) =>
      withLoop(good, random, (loop) => {
        const [guide] = loop.guideWires;
        if (!guide) return false;
        // No guide keeps five metres more all along: it ends at the wire.
        loop.guideWires = [{ ...guide, clearanceM: guide.clearanceM! + 5 }];
      }),
  },
  {
    name: "a guide wire that ends short of the wire",
    breaks: "guide-wires",
    spoil: (good, random) =>
      withLoop(good, random, (loop) => {
        const [guide] = loop.guideWires;
        if (!guide) return false;
        loop.guideWires = [{ ...guide, line: guide.line.slice(0, -2) }];
        return guide.line.length > 6;
      }),
  },
  {
    name: "a passage called by another verdict",
    breaks: "verdicts",
    spoil: (good, random) =>
      withPassage(good, random, (one) => ({
        ...one,
        verdict: one.verdict === "shut" ? "drive" : "shut",
      })),
  },
  {
    name: "a passage wider between the wires than from edge to edge",
    breaks: "verdicts",
    spoil: (good, random) =>
      withPassage(good, random, (one) => ({ ...one, wireWidthM: one.widthM! + 0.05 })),
  },
  {
    name: "a passage stated wider than it is",
    breaks: "stated-passages",
    spoil: (good, random) =>
      withNarrow(good, random, (one) => ({ ...one, widthM: one.widthM! + 0.1 })),
  },
  {
    name: "a passage stated narrower than it is",
    breaks: "stated-passages",
    spoil: (good, random) =>
      withNarrow(good, random, (one) => ({ ...one, widthM: 0.6 * one.widthM! })),
  },
  {
    name: "a passage stated too wide between the wires",
    breaks: "stated-passages",
    spoil: (good, random) =>
      withNarrow(good, random, (one) => ({ ...one, wireWidthM: one.widthM! - 0.02 })),
  },
  {
    name: "a passage left out",
    breaks: "stated-passages",
    spoil: (good, random) => withNarrow(good, random, () => undefined),
  },
  {
    name: "an invented passage on open lawn",
    breaks: "stated-passages",
    spoil: (good, random) => {
      const loop = pick(good.plan.loops, random)!;
      const i = pick(singleVertices(loop), random);
      if (i === undefined) return undefined;
      const [a, b] = [1.2, 1.6].map((inM) =>
        moved(vertex(loop.wire, i), outward(loop.wire, i), -inM),
      );
      const passages = [
        ...good.plan.passages!,
        {
          number: "99",
          centreLine: Float64Array.of(...a!, ...b!),
          widthM: 0.5,
          wireWidthM: 0,
          verdict: "shut",
        },
      ];
      return { ...good, plan: { ...good.plan, passages } };
    },
  },
  {
    name: "a wall right across the lawn",
    breaks: "reach",
    spoil: (good, random) => walledOff(good, random, (from, to, n) => [box(from, to, n)]),
  },
  {
    name: "a row of posts right across the lawn",
    breaks: "reach",
    spoil: (good, random) =>
      walledOff(good, random, (from, to, n) => {
        const count = Math.ceil((to - from) / (0.4 * good.profile.passage.driveMinM));
        const at = (i: number): number => from + ((to - from) * i) / count;
        return Array.from({ length: count + 1 }, (_, i) => box(at(i) - 0.02, at(i) + 0.02, n));
      }),
  },
  {
    name: "an area without wire drawn over a paired run",
    breaks: "no-wire",
    spoil: (good, random) => {
      const runs = good.plan.loops.flatMap((loop) => loop.pairedRuns ?? []);
      const run = pick(runs, random);
      if (!run) return undefined;
      return withNoWire(good, middleOf(points(run.line), random), 0.1);
    },
  },
  {
    name: "an area without wire drawn over a guide wire",
    breaks: "no-wire",
    spoil: (good, random) => {
      const guide = pick(
        good.plan.loops.flatMap((loop) => loop.guideWires),
        random,
      );
      return guide && withNoWire(good, middleOf(points(guide.line), random), 0.05);
    },
  },
  {
    name: "a mown area half a square metre wrong",
    breaks: "mown-area",
    spoil: (good, random) => {
      const { mown } = good.plan;
      const i = Math.floor(random() * mown!.length);
      const changed = mown!.map((one, k) =>
        k === i ? { ...one, areaM2: one.areaM2 + (random() < 0.5 ? 0.5 : -0.5) } : one,
      );
      return { ...good, plan: { ...good.plan, mown: changed } };
    },
  },
  {
    name: "the mown area of a loop not stated",
    breaks: "mown-area",
    spoil: (good) =>
      good.plan.loops.length < 2
        ? undefined
        : { ...good, plan: { ...good.plan, mown: good.plan.mown!.slice(1) } },
  },
];

/** The plan with one of its passages that are not mown like the rest changed or left out. */
function withNarrow(
  good: Good,
  random: () => number,
  change: (one: StatedPassage) => StatedPassage | undefined,
): Spoilt | undefined {
  const narrow = good.plan.passages!.filter(({ verdict }) => verdict !== "mow");
  const one = pick(narrow, random);
  if (!one) return undefined;
  const changed = good.plan.passages!.flatMap((other) =>
    other === one ? (change(one) ?? []) : other,
  );
  return { ...good, plan: { ...good.plan, passages: changed } };
}

function withPassage(
  good: Good,
  random: () => number,
  change: (one: StatedPassage) => StatedPassage,
): Spoilt | undefined {
  const { passages } = good.plan;
  const one = passages && pick(passages, random);
  if (!one) return undefined;
  const changed = passages.map((other) => (other === one ? change(one) : other));
  return { ...good, plan: { ...good.plan, passages: changed } };
}

/** Half the thickness of a wall that was forgotten, metres. */
const WALL_M = 0.1;

function box(from: number, to: number, n: number): RingM {
  return Float64Array.of(from, n - WALL_M, to, n - WALL_M, to, n + WALL_M, from, n + WALL_M);
}

/**
 * Something firm from wire to wire of one loop, due east, where the wire crosses that line just twice
 * and the machine has room on both sides.
 */
function walledOff(
  good: Good,
  random: () => number,
  made: (from: number, to: number, n: number) => RingM[],
): Spoilt | undefined {
  const roomM = 0.75 * good.profile.passage.driveMinM;
  for (let attempt = 0; attempt < 60; attempt++) {
    const wire = pick(good.plan.loops, random)!.wire;
    const all = points(wire);
    const [low, high] = [Math.min(...all.map((p) => p[1])), Math.max(...all.map((p) => p[1]))];
    const n = low + (0.15 + 0.7 * random()) * (high - low);
    const across = [n - WALL_M, n, n + WALL_M].map((north) =>
      all.flatMap((a, i) => {
        const b = vertex(wire, i + 1);
        if (a[1] > north === b[1] > north) return [];
        return [a[0] + ((north - a[1]) * (b[0] - a[0])) / (b[1] - a[1])];
      }),
    );
    if (across.some((crossings) => crossings.length !== 2)) continue;
    const from = Math.max(...across.map((crossings) => Math.min(...crossings))) + 0.05;
    const to = Math.min(...across.map((crossings) => Math.max(...crossings))) - 0.05;
    if (to - from < 3 * roomM) continue;
    const hasRoom = [1, -1].every((side) =>
      [0.25, 0.5, 0.75].some((share) =>
        [1, 1.5, 2, 3].some((far) => {
          const at: PointM = [from + share * (to - from), n + side * (WALL_M + far * roomM)];
          return (
            inside(wire, at) &&
            (side === 1 ? at[1] < high : at[1] > low) &&
            all.every((a, i) => toSegment(at, a, vertex(wire, i + 1)) > roomM) &&
            good.site.things.every((thing) =>
              thing.areas.every(({ shell }) =>
                points(shell).every((p, i) => toSegment(at, p, vertex(shell, i + 1)) > roomM),
              ),
            )
          );
        }),
      ),
    );
    if (!hasRoom) continue;
    const wall: Thing = {
      ...{ id: "wall", name: "wall that was forgotten", role: "firm", contact: "firm" },
      ...{ edgeKind: "wall", source: {} },
      areas: made(from, to, n).map((shell) => ({ shell, holes: [] })),
    };
    return { ...good, site: { ...good.site, things: [...good.site.things, wall] } };
  }
  return undefined;
}

function inside(ring: RingM, [e, n]: PointM): boolean {
  let is = false;
  points(ring).forEach((a, i) => {
    const b = vertex(ring, i + 1);
    if (a[1] > n !== b[1] > n && e < a[0] + ((n - a[1]) * (b[0] - a[0])) / (b[1] - a[1])) is = !is;
  });
  return is;
}

function toSegment(p: PointM, a: PointM, b: PointM): number {
  const [de, dn] = [b[0] - a[0], b[1] - a[1]];
  const square = de * de + dn * dn;
  const t = square === 0 ? 0 : ((p[0] - a[0]) * de + (p[1] - a[1]) * dn) / square;
  const k = Math.max(0, Math.min(1, t));
  return Math.hypot(p[0] - a[0] - k * de, p[1] - a[1] - k * dn);
}

/** Whether the wire turns by more than 20° at a vertex. */
function turns(wire: RingM, i: number): boolean {
  const [a, b, c] = [vertex(wire, i - 1), vertex(wire, i), vertex(wire, i + 1)];
  const one = Math.atan2(b[1] - a[1], b[0] - a[0]);
  const other = Math.atan2(c[1] - b[1], c[0] - b[0]);
  const turn = Math.abs(one - other) % (2 * Math.PI);
  return Math.min(turn, 2 * Math.PI - turn) > 0.35;
}

/** How far a ray goes from a place until it meets the wire, segment `own` aside, metres. */
function hitM(wire: RingM, own: number, from: PointM, along: PointM): number {
  let farM = Infinity;
  const n = wire.length >> 1;
  for (let i = 0; i < n; i++) {
    if (i === own) continue;
    const [a, b] = [vertex(wire, i), vertex(wire, i + 1)];
    const [de, dn] = [b[0] - a[0], b[1] - a[1]];
    const c = along[0] * dn - along[1] * de;
    if (c === 0) continue;
    const t = ((a[0] - from[0]) * dn - (a[1] - from[1]) * de) / c;
    const u = ((a[0] - from[0]) * along[1] - (a[1] - from[1]) * along[0]) / c;
    if (t > 0 && u >= 0 && u <= 1) farM = Math.min(farM, t);
  }
  return farM;
}
