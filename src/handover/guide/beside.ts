/** What the wire lies beside: which edge, of what, and how far off. */
import { areaContains } from "../../geometry/rings.ts";
import { SegmentIndex } from "../../geometry/segment-index.ts";
import type { AreaM, LineM, PointM, RingM } from "../../model/geometry.ts";
import type { Plan } from "../../model/plan.ts";
import type { EdgeKind } from "../../model/roles.ts";
import type { OwnEdges, Site } from "../../model/site.ts";

/** `lawn`: in the open, beside nothing; `across`: over flush paving; `loop`: another loop's wire. */
export type BesideKind = EdgeKind | "loop" | "lawn" | "across";

export interface Beside {
  readonly kind: BesideKind;
  /** Name of the thing, or of the other loop; undefined for an edge without a name. */
  readonly name: string | undefined;
}

/** A lawn's edge and a thing that bounds it are drawn this far apart at most, metres. */
const SAME_EDGE_M = 0.15;
/** A tagged line tells the edge within this, metres. */
const LINE_M = 0.3;
/** Wire farther than this from an edge beyond its set-in lies in the open, metres. */
const OPEN_BEYOND_M = 0.7;

/** Runs along with the wire up to this angle (sine of 45°). */
const ALONG_SINE = Math.SQRT1_2;
const OPEN: Beside = { kind: "lawn", name: undefined };

interface Source {
  readonly beside: Beside;
  readonly index: SegmentIndex;
}

/** Looks up what lies beside places of the wires of one plan. */
export class Surroundings {
  private readonly lawns: Group;
  private readonly things: Group;
  private readonly lines: Group;
  private readonly loops: Group;
  private readonly flush: readonly { readonly name: string; readonly area: AreaM }[];
  private readonly openM: number;
  private readonly spacingM: number;

  constructor(site: Site, plan: Plan) {
    const { setinM, pegs, loop } = plan.profile;
    const lawns = site.lawns.flatMap((lawn): readonly OwnEdges[] => lawn.ownEdges ?? [lawn]);
    const given = [...site.things, ...lawns, ...site.edgeLines].map((one) => one.setinM ?? 0);
    this.openM = Math.max(...Object.values(setinM), ...given) + pegs.wanderMaxM + OPEN_BEYOND_M;
    this.spacingM = 1.5 * loop.spacingM;
    this.lawns = groupOf(
      lawns.map(({ area, edgeKind }) => ({
        beside: { kind: edgeKind ?? "open", name: undefined },
        lines: [area.shell, ...area.holes],
      })),
      true,
    );
    this.things = groupOf(
      site.things.map(({ name, edgeKind, contact, areas }) => ({
        beside: { kind: contact === "flush" ? "flush" : edgeKind, name },
        lines: areas.flatMap((area) => [area.shell, ...area.holes]),
      })),
      true,
    );
    this.lines = groupOf(
      site.edgeLines.map(({ kind, line }) => ({
        beside: { kind, name: undefined },
        lines: [line],
      })),
      false,
    );
    this.loops = groupOf(
      plan.loops.map(({ name, wire }) => ({ beside: { kind: "loop", name }, lines: [wire] })),
      true,
    );
    this.flush = site.things
      .filter(({ contact }) => contact === "flush")
      .flatMap(({ name, areas }) => areas.map((area) => ({ name, area })));
  }

  /**
   * What a span of a loop's wire lies beside: what runs along with it, else what is near.
   *
   * @param span from one peg to the next
   */
  along([[ae, an], [be, bn]]: readonly [PointM, PointM], loop: string): Beside {
    const [e, n] = [(ae + be) / 2, (an + bn) / 2];
    const crossed = this.flush.find(({ area }) => areaContains(area, e, n));
    if (crossed) return { kind: "across", name: crossed.name };
    const direction: PointM = [be - ae, bn - an];
    return this.nearest([e, n], loop, direction) ?? this.nearest([e, n], loop) ?? OPEN;
  }

  private nearest([e, n]: PointM, loop: string, direction?: PointM): Beside | undefined {
    const lawn = this.lawns.nearest(e, n, this.openM, direction);
    const thing = this.things.nearest(e, n, this.openM, direction);
    const line = this.lines.nearest(e, n, this.openM, direction);
    const other = this.loops.nearest(e, n, this.spacingM, direction, loop);
    const edgeM = Math.min(lawn?.distanceM ?? Infinity, thing?.distanceM ?? Infinity);
    if (other && other.distanceM < edgeM) return other.beside;
    if (line && line.distanceM <= edgeM + LINE_M) return line.beside;
    if (thing && thing.distanceM <= (lawn?.distanceM ?? Infinity) + SAME_EDGE_M) {
      return thing.beside;
    }
    return lawn?.beside;
  }

  /** How far a place is from what it lies beside; undefined in the open and across paving. */
  distanceM([e, n]: PointM, beside: Beside): number | undefined {
    const groups = { loop: [this.loops], across: [], lawn: [] };
    const kind = beside.kind as keyof typeof groups;
    const among = groups[kind] ?? [this.lines, this.things, this.lawns];
    const found = among.flatMap((group) => group.distanceOf(e, n, beside) ?? []);
    return found.length > 0 ? Math.min(...found) : undefined;
  }
}

/** Things of one sort with one index over all of them, and one for each. */
interface Group {
  nearest(
    e: number,
    n: number,
    withinM: number,
    direction?: PointM,
    except?: string,
  ): { readonly beside: Beside; readonly distanceM: number } | undefined;
  distanceOf(e: number, n: number, beside: Beside): number | undefined;
}

function groupOf(
  sources: readonly { readonly beside: Beside; readonly lines: readonly (RingM | LineM)[] }[],
  closed: boolean,
): Group {
  const lines = sources.flatMap((source) => source.lines);
  const ownerOf = sources.flatMap((source, i) => source.lines.map(() => i));
  const index = new SegmentIndex(lines, closed);
  const single = new Map<string, Source>();
  const keyOf = ({ kind, name }: Beside) => `${kind} ${name ?? ""}`;
  const linesBy = new Map<string, (RingM | LineM)[]>();
  for (const { beside, lines: own } of sources) {
    const key = keyOf(beside);
    const known = linesBy.get(key);
    if (known) known.push(...own);
    else linesBy.set(key, [...own]);
  }
  const sourceOf = (beside: Beside): Source | undefined => {
    const key = keyOf(beside);
    const known = single.get(key);
    if (known) return known;
    const own = linesBy.get(key);
    if (!own) return undefined;
    const made = { beside, index: new SegmentIndex(own, closed) };
    single.set(key, made);
    return made;
  };
  return {
    nearest(e, n, withinM, direction, except) {
      const besideOf = (segment: number) => sources[ownerOf[index.ringOf[segment]!]!]!.beside;
      const accept = (one: number): boolean =>
        (except === undefined || besideOf(one).name !== except) &&
        (direction === undefined || isAlong(index.from(one), index.to(one), direction));
      const near = index.nearest(e, n, withinM, accept);
      return near && { beside: besideOf(near.segment), distanceM: near.distanceM };
    },
    distanceOf(e, n, beside) {
      return sourceOf(beside)?.index.nearest(e, n, Infinity)?.distanceM;
    },
  };
}

function isAlong([ae, an]: PointM, [be, bn]: PointM, [de, dn]: PointM): boolean {
  const [ue, un] = [be - ae, bn - an];
  const sizes = Math.hypot(ue, un) * Math.hypot(de, dn);
  return Math.abs(ue * dn - un * de) <= ALONG_SINE * sizes;
}
