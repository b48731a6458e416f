/**
 * The ground: what the machine may drive on, and what bounds the wire.
 *
 * `wireGround` is lawn less everything that needs a wire round it or that cuts its edge; firm things
 * standing free inside it need none and are kept apart. Flush paving crossed by the machine stays in.
 */
import { AreaIndex } from "../geometry/area-index.ts";
import { difference, intersection, union } from "../geometry/overlay.ts";
import { areaM2, boxOf, totalAreaM2, vertexAt } from "../geometry/rings.ts";
import { SegmentIndex } from "../geometry/segment-index.ts";
import { segmentsMeet } from "../geometry/segments.ts";
import type { AreaM, RingM } from "../model/geometry.ts";
import type { Site, Thing } from "../model/site.ts";
import { type Crossing, findCrossings } from "./crossings.ts";

export interface Ground {
  /** Lawns united. */
  readonly lawn: readonly AreaM[];
  /** Lawn less soft things and less firm things that cut its edge. */
  readonly wireGround: readonly AreaM[];
  /** Firm things wholly inside `wireGround`. */
  readonly freeFirm: readonly Thing[];
  /** Flush paving that the machine crosses, as far as it lies in `wireGround`: not mown. */
  readonly crossed: readonly AreaM[];
  /** Stretches of flush path between two lawns that the wire spans. */
  readonly crossings: readonly Crossing[];
  /** Soft things, for naming the exclusion loops. */
  readonly soft: readonly Thing[];
}

/**
 * Lawns united, things taken out.
 *
 * @param uncrossed numbers of crossings (as `findCrossings` gives them) that lead nowhere
 */
export function makeGround(site: Site, uncrossed: ReadonlySet<number> = new Set()): Ground {
  const lawn = union(site.lawns.map((l) => l.area));
  const soft = site.things.filter((t) => t.contact === "loop");
  const firm = site.things.filter((t) => t.contact === "firm");
  const flush = site.things.filter((t) => t.contact === "flush");
  const inLawn = flush.filter((t) => isCrossed(t, lawn));
  const beside = flush.filter((t) => !inLawn.includes(t));
  const crossings = findCrossings(lawn, beside).filter(({ number }) => !uncrossed.has(number));
  const stretches = crossings.flatMap((crossing) => crossing.stretch);
  const cutting = soft.flatMap((t) => t.areas);
  const paving = beside.flatMap((t) => t.areas);
  const softGround = difference(stretches.length === 0 ? lawn : union([...lawn, ...stretches]), [
    ...cutting,
    ...(stretches.length === 0 ? paving : difference(paving, stretches)),
  ]);
  const { free, edge } = sortFirm(firm, softGround);
  const wireGround =
    edge.length === 0
      ? softGround
      : difference(
          softGround,
          edge.flatMap((t) => t.areas),
        );
  const crossed = [
    ...inLawn.flatMap((t) => t.areas),
    ...crossings.flatMap(({ between }) => between),
    ...intersection(paving, stretches),
  ];
  return { lawn, wireGround, freeFirm: free, crossed, crossings, soft };
}

/** Flush paving is crossed when it lies inside a lawn or when taking it out would part the lawn. */
function isCrossed(thing: Thing, lawn: readonly AreaM[]): boolean {
  const box = boxOf(...thing.areas.map((a) => a.shell));
  const near = lawn.filter((area) => {
    const b = boxOf(area.shell);
    return b.minE <= box.maxE && b.maxE >= box.minE && b.minN <= box.maxN && b.maxN >= box.minN;
  });
  const shared = totalAreaM2(intersection(near, thing.areas));
  if (shared < 1e-4) return false;
  if (shared > 0.999 * totalAreaM2(thing.areas)) return true;
  const left = difference(near, thing.areas).filter((a) => areaM2(a) > 1);
  return left.length > near.length;
}

function meetsAny(ring: RingM, index: SegmentIndex): boolean {
  const n = ring.length >> 1;
  for (let i = 0; i < n; i++) {
    const a = vertexAt(ring, i);
    const b = vertexAt(ring, (i + 1) % n);
    const near = index.inBox(
      Math.min(a[0], b[0]),
      Math.min(a[1], b[1]),
      Math.max(a[0], b[0]),
      Math.max(a[1], b[1]),
    );
    if (near.some((s) => segmentsMeet(a, b, index.from(s), index.to(s)))) return true;
  }
  return false;
}

/** Firm things standing free on the ground, and those that cut its edge; others do not matter. */
function sortFirm(
  firm: readonly Thing[],
  ground: readonly AreaM[],
): { free: Thing[]; edge: Thing[] } {
  const rings = ground.flatMap((area) => [area.shell, ...area.holes]);
  const index = new SegmentIndex(rings);
  const areas = new AreaIndex(ground);
  const free: Thing[] = [];
  const edge: Thing[] = [];
  for (const thing of firm) {
    const shells = thing.areas.map((a) => a.shell);
    if (shells.some((shell) => meetsAny(shell, index))) {
      edge.push(thing);
      continue;
    }
    const inside = areas.locate(shells[0]![0]!, shells[0]![1]!) !== -1;
    if (inside) free.push(thing);
  }
  return { free, edge };
}
