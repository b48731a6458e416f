/**
 * The way of the lead from an outlet to a place on the wire: round the lawn or along its edge, round
 * buildings and water, as short as that allows. A lead across the lawn is in the way of blades,
 * scarifiers and spades.
 */
import { AreaIndex } from "../geometry/area-index.ts";
import { shrink } from "../geometry/offset.ts";
import { difference } from "../geometry/overlay.ts";
import { boxOf } from "../geometry/rings.ts";
import { SegmentIndex } from "../geometry/segment-index.ts";
import { nearestShare } from "../geometry/segments.ts";
import { TautWays } from "../geometry/taut-ways.ts";
import type { AreaM, PointM } from "../model/geometry.ts";
import type { Profile } from "../model/profile.ts";
import type { PlacedPoint, Site } from "../model/site.ts";
import type { LeadWay } from "../model/station.ts";

/** A lead may go this far round everything, metres. */
const AROUND_M = 15;
/** A place of the wire that is not on open ground is put there from this near, metres. */
const SNAP_M = 3;
/** The same for an outlet, which may be anywhere in a building. */
const OUTLET_SNAP_M = 30;
/** Beyond what the wire may wander in, metres: places on it lie on the lead's side. */
const SLACK_M = 0.1;

/** Finds ways of leads; the ground for them is made when the first is asked for. */
export class LeadRoutes {
  readonly #outlets: readonly PointM[];
  readonly #ground: () => LeadGround;
  #made: LeadGround | undefined;

  /** @param parts what the wires enclose; no lead goes over it */
  constructor(site: Site, parts: readonly AreaM[], profile: Profile) {
    this.#outlets = site.outlets.map((outlet: PlacedPoint) => outlet.atM);
    this.#ground = () => leadGround(site, parts, profile, this.#outlets);
  }

  /** No way to a place is shorter than this, metres. */
  leastM(at: PointM): number {
    return Math.min(
      ...this.#outlets.map((outlet) => Math.hypot(outlet[0] - at[0], outlet[1] - at[1])),
    );
  }

  /** The shortest way to a place from any outlet. */
  to(at: PointM): LeadWay {
    this.#made ??= this.#ground();
    const { snap, from } = this.#made;
    const end = snap(at, SNAP_M);
    let bestM = Infinity;
    for (const { waysTo, offM } of from) {
      const lengthM = end && waysTo(end.atM);
      if (lengthM !== undefined) bestM = Math.min(bestM, offM + lengthM + end!.offM);
    }
    if (Number.isFinite(bestM)) return { lengthM: bestM, acrossLawn: false };
    return { lengthM: this.leastM(at), acrossLawn: true };
  }
}

interface Snapped {
  readonly atM: PointM;
  readonly offM: number;
}

interface LeadGround {
  readonly snap: (at: PointM, withinM: number) => Snapped | undefined;
  /** From each outlet that open ground is near: length of the way to a place on it. */
  readonly from: readonly {
    readonly waysTo: (to: PointM) => number | undefined;
    readonly offM: number;
  }[];
}

function leadGround(
  site: Site,
  parts: readonly AreaM[],
  profile: Profile,
  outlets: readonly PointM[],
): LeadGround {
  const box = boxOf(
    ...site.lawns.map(({ area }) => area.shell),
    Float64Array.from(outlets.flatMap((outlet) => [...outlet])),
  );
  const [w, s, e, n] = [
    box.minE - AROUND_M,
    box.minN - AROUND_M,
    box.maxE + AROUND_M,
    box.maxN + AROUND_M,
  ];
  const whole: AreaM = { shell: Float64Array.of(w, s, e, s, e, n, w, n), holes: [] };
  const within = shrink(
    parts.map(({ shell }) => ({ shell, holes: [] })),
    profile.pegs.wanderMaxM + SLACK_M,
    "mitre",
  );
  const enclosed = new AreaIndex(within);
  const barred = [...site.things, ...(site.around ?? [])].filter(
    ({ role }) => role === "building" || role === "water",
  );
  const open = difference([whole], [...within, ...barred.flatMap((thing) => thing.areas)]);
  const ways = new TautWays(open);
  const edges = new SegmentIndex(open.flatMap((area) => [area.shell, ...area.holes]));
  const snap = (at: PointM, withinM: number): Snapped | undefined => {
    if (ways.holds(at)) return { atM: at, offM: 0 };
    const near = edges.nearest(at[0], at[1], withinM);
    if (!near) return undefined;
    const [a, b] = [edges.from(near.segment), edges.to(near.segment)];
    const share = nearestShare(at[0], at[1], a[0], a[1], b[0], b[1]);
    const on = [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])];
    // A millimetre further on, so that rounding leaves it on the open ground.
    const [de, dn] = [on[0]! - at[0], on[1]! - at[1]];
    const far = Math.hypot(de, dn) || 1;
    const atM: PointM = [on[0]! + (0.001 * de) / far, on[1]! + (0.001 * dn) / far];
    return ways.holds(atM) ? { atM, offM: near.distanceM } : undefined;
  };
  return {
    snap,
    from: outlets.flatMap((outlet) => {
      // From a house in the middle of the lawn every lead goes over it.
      if (enclosed.locate(outlet[0], outlet[1]) !== -1) return [];
      const start = snap(outlet, OUTLET_SNAP_M);
      if (!start) return [];
      return { waysTo: ways.lengthsFrom(start.atM), offM: start.offM };
    }),
  };
}
