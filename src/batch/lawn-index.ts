import { boxFinder } from "../geometry/box-finder.ts";
import { EdgeIndex } from "../geometry/edge-index.ts";
import { vertexAt } from "../geometry/rings.ts";
import { pointSegmentM } from "../geometry/segments.ts";
import type { AreaM, LineM, PointM, RingM } from "../model/geometry.ts";

/** Which of many lawns hold a place, come near a line, or lie inside an area. */
export class LawnIndex {
  readonly #lawns: readonly (readonly AreaM[])[];
  readonly #edges: EdgeIndex;
  readonly #find;
  readonly #single = new Map<number, EdgeIndex>();

  /** @param lawns the areas of each lawn; its place in the list is its number */
  constructor(lawns: readonly (readonly AreaM[])[]) {
    this.#lawns = lawns;
    this.#edges = new EdgeIndex(lawns);
    this.#find = boxFinder(lawns);
  }

  /** Lawns that hold a place. */
  holding(at: PointM): number[] {
    const candidates = this.#find([{ shell: Float64Array.from(at), holes: [] }]);
    return candidates.filter((k) => this.#edgesOf(k).contains(...at));
  }

  /** Lawns of which an edge comes within `reachM` of a line or ring. */
  near(line: LineM | RingM, closed: boolean, reachM: number): Set<number> {
    const found = new Set<number>();
    const count = line.length >> 1;
    const segments = closed || count === 1 ? count : count - 1;
    for (let i = 0; i < segments; i++) {
      const [a, b] = [vertexAt(line, i), vertexAt(line, (i + 1) % count)];
      for (const k of this.#edges.edgesNear(a, b, reachM)) found.add(this.#edges.owner(k));
    }
    return found;
  }

  /** Lawns that begin inside a ring: those that lie inside it whole, however far from it, too. */
  inside(ring: RingM): number[] {
    const area = { shell: ring, holes: [] };
    const candidates = this.#find([area]);
    if (candidates.length === 0) return [];
    const self = new EdgeIndex([[area]]);
    return candidates.filter((k) => self.contains(...vertexAt(this.#lawns[k]![0]!.shell, 0)));
  }

  /** The lawn that holds a place, else the one whose edge is nearest and within `reachM`. */
  nearest(at: PointM, reachM: number): number | undefined {
    const [holder] = this.holding(at);
    if (holder !== undefined) return holder;
    const away = (k: number) => {
      const [a, b] = this.#edges.edge(k);
      return pointSegmentM(...at, ...a, ...b);
    };
    const near = this.#edges.edgesNear(at, at, reachM);
    if (near.length === 0) return undefined;
    return this.#edges.owner(near.reduce((best, k) => (away(k) < away(best) ? k : best)));
  }

  #edgesOf(lawn: number): EdgeIndex {
    const known = this.#single.get(lawn) ?? new EdgeIndex([this.#lawns[lawn]!]);
    this.#single.set(lawn, known);
    return known;
  }
}
