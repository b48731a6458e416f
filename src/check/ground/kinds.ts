/**
 * What the site says of an edge, told from the site alone: a tagged edge line within 0.30 m and 20°,
 * else a thing within 0.10 m and 20°, else the lawn's own attribute, else open. Of two sources of one
 * rank the one that asks for more counts.
 */
import type { Profile } from "../../model/profile.ts";
import type { EdgeKind } from "../../model/roles.ts";
import type { Site } from "../../model/site.ts";
import { SegmentTree } from "../kernel/segment-tree.ts";
import type { Piece } from "./pieces.ts";

const LINE_REACH_M = 0.3;
const THING_REACH_M = 0.1;
/** Lawns that are one ground keep what each says of its own edges. */
const OWN_REACH_M = 0.005;
const SIDE_BY_SIDE_SINE = Math.sin((20 * Math.PI) / 180);
/** So near to a limit rounding decides whether a source speaks: then less is asked, metres and sine. */
const DOUBT_M = 0.0005;
const DOUBT_SINE = 0.002;
/** Stretches shorter than this ask for no more than their neighbours, metres. */
const SHORT_M = 0.025;

export interface Kind {
  readonly kind: EdgeKind;
  readonly setinM: number;
}

/** A stretch of edge that asks the wire to keep its distance. */
export interface KindedPiece extends Kind {
  readonly piece: Piece;
  readonly ae: number;
  readonly an: number;
  readonly be: number;
  readonly bn: number;
  /** Whether flush paving lies along it. */
  readonly alongFlush: boolean;
}

interface Source extends Kind {
  readonly rank: number;
  readonly reachM: number;
  readonly isFlush: boolean;
}

interface Claim {
  readonly from: number;
  readonly to: number;
  readonly source: Source;
  /** Whether it lies clear of the limits of distance and angle. */
  readonly isSure: boolean;
}

export class Kinds {
  readonly #tree: SegmentTree;
  readonly #sources: Source[] = [];
  readonly #profile: Profile;

  constructor(site: Site, profile: Profile) {
    this.#profile = profile;
    const ends: number[] = [];
    const add = (line: Float64Array, closed: boolean, source: Source): void => {
      const n = line.length;
      for (let i = 0; i + (closed ? 0 : 2) < n; i += 2) {
        ends.push(line[i]!, line[i + 1]!, line[(i + 2) % n]!, line[(i + 3) % n]!);
        this.#sources.push(source);
      }
    };
    for (const lawn of site.lawns) {
      for (const { area, edgeKind = "open", setinM = lawn.setinM } of lawn.ownEdges ?? []) {
        const source: Source = {
          kind: edgeKind,
          setinM: setinM ?? profile.setinM[edgeKind],
          rank: 0,
          reachM: OWN_REACH_M,
          isFlush: false,
        };
        for (const ring of [area.shell, ...area.holes]) add(ring, true, source);
      }
    }
    for (const thing of site.things) {
      const source: Source = {
        kind: thing.edgeKind,
        setinM: thing.setinM ?? profile.setinM[thing.edgeKind],
        rank: 1,
        reachM: THING_REACH_M,
        isFlush: thing.contact === "flush",
      };
      for (const { shell, holes } of thing.areas) {
        for (const ring of [shell, ...holes]) add(ring, true, source);
      }
    }
    for (const { kind, line, setinM, precedence = 0 } of site.edgeLines) {
      add(line, false, {
        kind,
        setinM: setinM ?? profile.setinM[kind],
        rank: 2 + precedence,
        reachM: LINE_REACH_M,
        isFlush: false,
      });
    }
    this.#tree = new SegmentTree(ends);
  }

  /** The piece in stretches of one kind each. */
  of(piece: Piece): KindedPiece[] {
    const { ae, an, be, bn } = piece;
    const lengthM = Math.hypot(be - ae, bn - an);
    if (lengthM < 1e-9) return [];
    const claims: Claim[] = [];
    for (const s of this.#tree.around(ae, an, be, bn, LINE_REACH_M + DOUBT_M)) {
      const perhaps = this.#claim(piece, lengthM, s, false);
      // What is not even perhaps beside it is not surely.
      if (!perhaps) continue;
      const sure = this.#claim(piece, lengthM, s, true);
      if (sure) claims.push(sure);
      claims.push(perhaps);
    }
    const cuts = [0, lengthM];
    for (const { from, to } of claims) cuts.push(from, to);
    cuts.sort((x, y) => x - y);
    const own = this.#ownKind(piece);
    const found: KindedPiece[] = [];
    const lengths: number[] = [];
    for (let c = 0; c + 1 < cuts.length; c++) {
      const [from, to] = [cuts[c]!, cuts[c + 1]!];
      if (to - from < 1e-6) continue;
      const middle = (from + to) / 2;
      const here = claims.filter((one) => one.from <= middle && one.to >= middle);
      const sure = strongest(here.flatMap((one) => (one.isSure ? one.source : []))) ?? own;
      const perhaps = strongest(here.map(({ source }) => source)) ?? own;
      const best = perhaps.setinM < sure.setinM ? perhaps : sure;
      const at = (d: number): [number, number] => [
        ae + ((be - ae) * d) / lengthM,
        an + ((bn - an) * d) / lengthM,
      ];
      const [fe, fn] = at(from);
      const [te, tn] = at(to);
      const alongFlush = here.some(({ source }) => source.isFlush);
      const { kind, setinM } = best;
      found.push({ piece, ae: fe, an: fn, be: te, bn: tn, kind, setinM, alongFlush });
      lengths.push(to - from);
    }
    return found.map((one, i) => {
      if (lengths[i]! >= SHORT_M || found.length === 1) return one;
      const beside = [found[i - 1], found[i + 1]].flatMap((other) => other?.setinM ?? []);
      return { ...one, setinM: Math.min(one.setinM, ...beside) };
    });
  }

  #ownKind({ lawn }: Piece): Kind {
    const kind = lawn?.edgeKind ?? "open";
    return { kind, setinM: lawn?.setinM ?? this.#profile.setinM[kind] };
  }

  /** The stretch of a piece along which a source's segment runs beside it. */
  #claim(
    { ae, an, be, bn }: Piece,
    lengthM: number,
    s: number,
    isSure: boolean,
  ): Claim | undefined {
    const { ends } = this.#tree;
    const source = this.#sources[s]!;
    const k = 4 * s;
    const [ce, cn, de, dn] = [ends[k]!, ends[k + 1]!, ends[k + 2]!, ends[k + 3]!];
    const otherM = Math.hypot(de - ce, dn - cn);
    if (otherM === 0) return undefined;
    const ue = (be - ae) / lengthM;
    const un = (bn - an) / lengthM;
    const sine = (ue * (dn - cn) - un * (de - ce)) / otherM;
    const doubt = isSure ? -1 : 1;
    if (Math.abs(sine) > SIDE_BY_SIDE_SINE + doubt * DOUBT_SINE) return undefined;
    const reachM = source.reachM + doubt * DOUBT_M;
    const along = (e: number, n: number): number => (e - ae) * ue + (n - an) * un;
    const off = (e: number, n: number): number => (n - an) * ue - (e - ae) * un;
    // The share of the source that lies within its reach to either side.
    const [o0, o1] = [off(ce, cn), off(de, dn)];
    let [u0, u1] = [0, 1];
    if (o0 === o1) {
      if (Math.abs(o0) > reachM) return undefined;
    } else {
      const one = (reachM - o0) / (o1 - o0);
      const other = (-reachM - o0) / (o1 - o0);
      u0 = Math.max(0, Math.min(one, other));
      u1 = Math.min(1, Math.max(one, other));
      if (u1 <= u0) return undefined;
    }
    const s0 = along(ce + u0 * (de - ce), cn + u0 * (dn - cn));
    const s1 = along(ce + u1 * (de - ce), cn + u1 * (dn - cn));
    const from = Math.max(0, Math.min(s0, s1));
    const to = Math.min(lengthM, Math.max(s0, s1));
    return to > from ? { from, to, source, isSure } : undefined;
  }
}

function strongest(sources: readonly Source[]): Source | undefined {
  let best: Source | undefined;
  for (const one of sources) {
    const stronger = !best || one.rank > best.rank;
    if (stronger || (one.rank === best!.rank && one.setinM > best!.setinM)) best = one;
  }
  return best;
}
