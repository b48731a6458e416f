/**
 * Outlines of lawns and things cut where they meet, each piece with what lies on its two sides.
 *
 * Nothing is overlaid: a piece is told by a place a fifth of a millimetre to its left and one to its right.
 * Between the cuts nothing changes, so one question serves a whole stretch. Cost n log n for finding
 * neighbours, √n for each question.
 */
import type { AreaM } from "../../model/geometry.ts";
import type { Lawn, Site, Thing } from "../../model/site.ts";
import { shareAt } from "../kernel/plane.ts";
import { endsOfRings, SegmentTree } from "../kernel/segment-tree.ts";
import { insideOf, type Winding } from "../kernel/winding.ts";

/** What lies at a place. */
export const NOTHING = 0;
/** Lawn with nothing on it. */
export const LAWN = 1;
/** Flush paving: the machine may drive over it. */
export const FLUSH = 2;
/** A firm thing. */
export const FIRM = 3;
/** Something that the wire must shut out. */
export const SOFT = 4;
export type Cover = 0 | 1 | 2 | 3 | 4;

/** Seams thinner than this are none, metres: twice what writing to 9 decimals of a degree moves. */
const SIDE_M = 0.0002;

export interface Piece {
  readonly ae: number;
  readonly an: number;
  readonly be: number;
  readonly bn: number;
  readonly left: Cover;
  readonly right: Cover;
  readonly lawn: Lawn | undefined;
  readonly thing: Thing | undefined;
  /** The area of the lawn or thing whose outline it is. */
  readonly area: AreaM;
}

interface Body {
  readonly inside: Winding;
  readonly cover: Cover;
}

/** Tells what lies at a place. */
export class Covers {
  readonly #bodies: Body[];
  readonly #tree: SegmentTree;

  constructor(site: Site) {
    const bodies: Body[] = [];
    const add = (areas: readonly AreaM[], cover: Cover): void => {
      for (const area of areas) bodies.push({ inside: insideOf(area), cover });
    };
    for (const lawn of site.lawns) add([lawn.area], LAWN);
    for (const { areas, contact } of site.things) {
      add(areas, contact === "loop" ? SOFT : contact === "firm" ? FIRM : FLUSH);
    }
    this.#bodies = bodies;
    this.#tree = new SegmentTree(bodies.flatMap(({ inside }) => [...inside.box]));
  }

  at(e: number, n: number): Cover {
    let cover: Cover = NOTHING;
    for (const b of this.#tree.around(e, n, e, n, 0)) {
      const body = this.#bodies[b]!;
      if (body.cover > cover && (body.inside.at(e, n) & 1) !== 0) cover = body.cover;
    }
    return cover;
  }

  /** Whether lawn was drawn there, whatever lies on it. */
  isOverLawn(e: number, n: number): boolean {
    return this.#tree.around(e, n, e, n, 0).some((b) => {
      const { cover, inside } = this.#bodies[b]!;
      return cover === LAWN && (inside.at(e, n) & 1) !== 0;
    });
  }
}

/** @returns every piece of outline whose two sides differ */
export function piecesOf(site: Site, covers: Covers): Piece[] {
  const rings: { ring: Float64Array; area: AreaM; lawn?: Lawn; thing?: Thing }[] = [];
  for (const lawn of site.lawns) {
    const { area } = lawn;
    for (const ring of [area.shell, ...area.holes]) rings.push({ ring, area, lawn });
  }
  for (const thing of site.things) {
    for (const area of thing.areas) {
      for (const ring of [area.shell, ...area.holes]) rings.push({ ring, area, thing });
    }
  }
  const tree = new SegmentTree(endsOfRings(rings.map(({ ring }) => ring)));
  const { ends } = tree;
  const pieces: Piece[] = [];
  let s = 0;
  for (const { ring, area, lawn, thing } of rings) {
    const first = s;
    const last = s + (ring.length >> 1) - 1;
    let known: readonly [Cover, Cover] | undefined;
    for (; s <= last; s++) {
      const k = 4 * s;
      const [ae, an, be, bn] = [ends[k]!, ends[k + 1]!, ends[k + 2]!, ends[k + 3]!];
      const lengthM = Math.hypot(be - ae, bn - an);
      if (lengthM === 0) continue;
      const others = tree
        .around(ae, an, be, bn, 2 * SIDE_M)
        .filter((t) => t !== s && !isNeighbour(t, s, first, last));
      const cuts = others.length === 0 ? [0, 1] : cutsOf(ends, s, others, lengthM);
      if (others.length > 0) known = undefined;
      const de = (be - ae) / lengthM;
      const dn = (bn - an) / lengthM;
      for (let c = 0; c + 1 < cuts.length; c++) {
        const [from, to] = [cuts[c]!, cuts[c + 1]!];
        const middle = (from + to) / 2;
        const [e, n] = [ae + middle * (be - ae), an + middle * (bn - an)];
        known ??= [
          covers.at(e - SIDE_M * dn, n + SIDE_M * de),
          covers.at(e + SIDE_M * dn, n - SIDE_M * de),
        ];
        const [left, right] = known;
        if (others.length > 0) known = undefined;
        if (left === right) continue;
        pieces.push({
          ae: ae + from * (be - ae),
          an: an + from * (bn - an),
          be: to === 1 ? be : ae + to * (be - ae),
          bn: to === 1 ? bn : an + to * (bn - an),
          left,
          right,
          lawn,
          thing,
          area,
        });
      }
    }
  }
  return pieces;
}

function isNeighbour(t: number, s: number, first: number, last: number): boolean {
  if (t < first || t > last) return false;
  const apart = Math.abs(t - s);
  return apart === 1 || apart === last - first;
}

/** Shares of a segment at which another crosses it or comes within the seam of it. */
function cutsOf(
  ends: Float64Array,
  s: number,
  others: readonly number[],
  lengthM: number,
): number[] {
  const k = 4 * s;
  const [ae, an, be, bn] = [ends[k]!, ends[k + 1]!, ends[k + 2]!, ends[k + 3]!];
  const ue = (be - ae) / lengthM;
  const un = (bn - an) / lengthM;
  const cuts = [0, 1];
  for (const t of others) {
    const j = 4 * t;
    const [ce, cn, de, dn] = [ends[j]!, ends[j + 1]!, ends[j + 2]!, ends[j + 3]!];
    cuts.push(shareAt(ce, cn, ae, an, be, bn), shareAt(de, dn, ae, an, be, bn));
    const off0 = ue * (cn - an) - un * (ce - ae);
    const off1 = ue * (dn - an) - un * (de - ae);
    if (off0 === off1) continue;
    const s0 = (ce - ae) * ue + (cn - an) * un;
    const s1 = (de - ae) * ue + (dn - an) * un;
    for (const off of [-SIDE_M, 0, SIDE_M]) {
      const u = (off - off0) / (off1 - off0);
      if (u > 0 && u < 1) cuts.push((s0 + u * (s1 - s0)) / lengthM);
    }
  }
  return cuts
    .filter((cut) => cut >= 0 && cut <= 1)
    .sort((x, y) => x - y)
    .filter((cut, i, all) => i === 0 || cut === 1 || (cut - all[i - 1]!) * lengthM > 1e-6);
}
