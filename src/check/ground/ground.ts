/** The ground as the judge sees it: outlines in pieces, and what of them asks the wire for distance. */
import type { AreaM, LineM, PointM, RingM } from "../../model/geometry.ts";
import type { Profile } from "../../model/profile.ts";
import type { Site, Thing } from "../../model/site.ts";
import { crossingShare, meet } from "../kernel/plane.ts";
import { SegmentTree } from "../kernel/segment-tree.ts";
import type { Wires } from "../wires.ts";
import { type KindedPiece, Kinds } from "./kinds.ts";
import {
  type Cover,
  Covers,
  FIRM,
  FLUSH,
  LAWN,
  NOTHING,
  type Piece,
  piecesOf,
  SOFT,
} from "./pieces.ts";

/** A place this far on the other side of an edge tells what lies there, metres. */
const BEYOND_M = 0.002;
/** A gap between lawn and flush path up to this is digitising, metres. */
const GAP_M = 0.1;

/** An edge that asks for a distance. */
export interface Asking {
  readonly ae: number;
  readonly an: number;
  readonly be: number;
  readonly bn: number;
  readonly setinM: number;
  /** What the edge is, for people: `lawn edge (open)`, or the name of a thing. */
  readonly what: string;
  /** The wire is asked only on the left of a to b; where false, wherever it lies. */
  readonly leftOnly: boolean;
  /** Flush: wire that crosses it is not asked near the crossing. */
  readonly mayCross: boolean;
}

export class Ground {
  readonly covers: Covers;
  readonly pieces: readonly Piece[];
  readonly #site: Site;
  readonly #profile: Profile;
  readonly #wires: Wires;
  #asking: Asking[] | undefined;
  #askingTree: SegmentTree | undefined;
  readonly #crossings: PointM[] = [];
  readonly #driven = new Map<Thing, boolean>();
  readonly #shutIn = new Map<AreaM, boolean>();
  #pieceTree: SegmentTree | undefined;

  constructor(site: Site, profile: Profile, wires: Wires) {
    this.#site = site;
    this.#profile = profile;
    this.#wires = wires;
    this.covers = new Covers(site);
    this.pieces = piecesOf(site, this.covers);
  }

  get pieceTree(): SegmentTree {
    this.#pieceTree ??= new SegmentTree(
      this.pieces.flatMap(({ ae, an, be, bn }) => [ae, an, be, bn]),
    );
    return this.#pieceTree;
  }

  /** Whether the wire goes round an area of a thing, or round some of it: then it stands inside. */
  isShutIn(area: AreaM): boolean {
    const known = this.#shutIn.get(area);
    if (known !== undefined) return known;
    const is = this.#isAnyInside(area.shell);
    this.#shutIn.set(area, is);
    return is;
  }

  /** Whether the wire goes round a vertex of a ring; all are alike where no wire comes near. */
  #isAnyInside(ring: RingM): boolean {
    if (this.#wires.windingOfAll(ring[0]!, ring[1]!) !== 0) return true;
    const [minE, minN, maxE, maxN] = boxOfRing(ring);
    if (this.#wires.tree.around(minE, minN, maxE, maxN, 0).length === 0) return false;
    for (let i = 2; i < ring.length; i += 2) {
      if (this.#wires.windingOfAll(ring[i]!, ring[i + 1]!) !== 0) return true;
    }
    return false;
  }

  /** Every edge that asks the wire for a distance. */
  get asking(): readonly Asking[] {
    this.#asking ??= [...relaxed(this.#edges()), ...this.#wideThings()];
    return this.#asking;
  }

  get askingTree(): SegmentTree {
    this.#askingTree ??= new SegmentTree(
      this.asking.flatMap(({ ae, an, be, bn }) => [ae, an, be, bn]),
    );
    return this.#askingTree;
  }

  /** The widest set-in that is asked for, metres. */
  get mostSetinM(): number {
    return this.asking.reduce((most, { setinM }) => Math.max(most, setinM), 0);
  }

  /** Places where wire crosses the edge of flush paving. */
  get flushCrossings(): readonly PointM[] {
    void this.asking;
    return this.#crossings;
  }

  #edges(): Asking[] {
    const kinds = new Kinds(this.#site, this.#profile);
    const found: Asking[] = [];
    for (const piece of this.pieces) {
      const turned = groundOnLeft(piece);
      if (!turned) continue;
      const { right: beyond } = turned;
      // A firm thing that stands free inside the wire asks for no set-in (see the rule firm-clear).
      if (beyond === FIRM && piece.thing?.contact === "firm" && this.isShutIn(piece.area)) continue;
      for (const whole of kinds.of(turned)) {
        const nearFlush = turned.left === FLUSH || beyond === FLUSH || whole.alongFlush;
        for (const one of nearFlush ? this.#cutByWire(whole) : [whole]) {
          // Flush paving that the wire takes in is driven over: no edge.
          if (nearFlush && beyond !== FIRM && beyond !== SOFT && this.#takenIn(one)) continue;
          if (turned.left === FLUSH && !this.#isTakenInLeft(one)) continue;
          // Paving drawn over lawn that the wire crosses or takes in anywhere is driven over as a whole;
          // so is paving with lawn all round it, wherever the wire lies.
          if (beyond === FLUSH && piece.thing && this.#isDriven(piece.thing)) {
            if (this.covers.isOverLawn(...beside(one, -BEYOND_M))) continue;
          }
          found.push({
            ae: one.ae,
            an: one.an,
            be: one.be,
            bn: one.bn,
            setinM: one.setinM,
            what: piece.thing ? piece.thing.name : `the lawn's edge (${one.kind})`,
            leftOnly: true,
            mayCross: nearFlush,
          });
        }
      }
    }
    return found;
  }

  /** An edge in pieces between the places where wire crosses it. */
  #cutByWire(edge: KindedPiece): KindedPiece[] {
    const { ae, an, be, bn } = edge;
    const { ends } = this.#wires.tree;
    const shares = [0, 1];
    for (const s of this.#wires.tree.around(ae, an, be, bn, 0)) {
      const k = 4 * s;
      const [ce, cn, de, dn] = [ends[k]!, ends[k + 1]!, ends[k + 2]!, ends[k + 3]!];
      if (meet(ae, an, be, bn, ce, cn, de, dn)) {
        const share = crossingShare(ae, an, be, bn, ce, cn, de, dn);
        shares.push(share);
        this.#crossings.push([ae + share * (be - ae), an + share * (bn - an)]);
      }
    }
    shares.sort((x, y) => x - y);
    const at = (share: number): [number, number] => [
      ae + share * (be - ae),
      an + share * (bn - an),
    ];
    return shares.slice(1).flatMap((to, i) => {
      if (to <= shares[i]!) return [];
      const [fe, fn] = at(shares[i]!);
      const [te, tn] = at(to);
      return [{ ...edge, ae: fe, an: fn, be: te, bn: tn }];
    });
  }

  /** Whether the wire goes round the place just beyond an edge. */
  #takenIn(edge: Ends): boolean {
    return this.#windingBeside(edge, -BEYOND_M) !== 0;
  }

  /** Whether the wire goes round flush paving on the left of an edge. */
  #isTakenInLeft(edge: Ends): boolean {
    return this.#windingBeside(edge, BEYOND_M) !== 0;
  }

  #windingBeside(edge: Ends, leftM: number): number {
    return this.#wires.windingOfAll(...beside(edge, leftM));
  }

  /** Whether the machine drives over paving that is drawn over lawn. */
  #isDriven(thing: Thing): boolean {
    const known = this.#driven.get(thing);
    if (known !== undefined) return known;
    const is = this.#isCrossed(thing) || this.#liesInLawn(thing);
    this.#driven.set(thing, is);
    return is;
  }

  /** Whether lawn is drawn under a thing all along its outline. */
  #liesInLawn(thing: Thing): boolean {
    return this.pieces.every((piece) => {
      if (piece.thing !== thing || Math.hypot(piece.be - piece.ae, piece.bn - piece.an) < SHORT_M)
        return true;
      const side = piece.left === FLUSH ? BEYOND_M : -BEYOND_M;
      return this.covers.isOverLawn(...beside(piece, side));
    });
  }

  #isCrossed(thing: Thing): boolean {
    const { tree } = this.#wires;
    return thing.areas.some(({ shell }) => {
      for (let i = 0; i < shell.length; i += 2) {
        const [ae, an] = [shell[i]!, shell[i + 1]!];
        const [be, bn] = [shell[(i + 2) % shell.length]!, shell[(i + 3) % shell.length]!];
        if (this.#wires.windingOfAll(ae, an) !== 0) return true;
        const meets = tree.around(ae, an, be, bn, 0).some((s) => {
          const k = 4 * s;
          const { ends } = tree;
          return meet(ae, an, be, bn, ends[k]!, ends[k + 1]!, ends[k + 2]!, ends[k + 3]!);
        });
        if (meets) return true;
      }
      return false;
    });
  }

  /** Water, drops and what else asks for more than an open edge, wherever the wire lies. */
  #wideThings(): Asking[] {
    const found: Asking[] = [];
    const { setinM } = this.#profile;
    const add = (line: RingM | LineM, closed: boolean, asked: number, what: string): void => {
      const n = line.length;
      for (let i = 0; i + (closed ? 0 : 2) < n; i += 2) {
        const [ae, an] = [line[i]!, line[i + 1]!];
        const [be, bn] = [line[(i + 2) % n]!, line[(i + 3) % n]!];
        found.push({ ae, an, be, bn, setinM: asked, what, leftOnly: false, mayCross: false });
      }
    };
    for (const thing of this.#site.things) {
      const asked = thing.setinM ?? setinM[thing.edgeKind];
      if (thing.contact !== "loop" || asked <= setinM.open) continue;
      for (const { shell, holes } of thing.areas) {
        for (const ring of [shell, ...holes]) add(ring, true, asked, thing.name);
      }
    }
    for (const edge of this.#site.edgeLines) {
      const asked = edge.setinM ?? setinM[edge.kind];
      if (asked > setinM.open) add(edge.line, false, asked, `the edge line (${edge.kind})`);
    }
    return found;
  }

  /** Whether wire may lie on a place: lawn, flush paving, or a digitising gap beside the latter. */
  mayLie(cover: Cover, gapM: number): boolean {
    return cover === LAWN || cover === FLUSH || (cover === NOTHING && gapM <= 1.5 * GAP_M);
  }
}

/** The piece with ground on its left and none on its right; undefined where there is no such side. */
function groundOnLeft(piece: Piece): Piece | undefined {
  const { left, right } = piece;
  const isGround = (cover: Cover, other: Cover): boolean =>
    cover === LAWN || (cover === FLUSH && other !== LAWN);
  if (isGround(left, right)) return piece;
  if (!isGround(right, left)) return undefined;
  const { ae, an, be, bn } = piece;
  return { ...piece, ae: be, an: bn, be: ae, bn: an, left: right, right: left };
}

interface Ends {
  readonly ae: number;
  readonly an: number;
  readonly be: number;
  readonly bn: number;
}

function boxOfRing(ring: RingM): [number, number, number, number] {
  let [minE, minN, maxE, maxN] = [Infinity, Infinity, -Infinity, -Infinity];
  for (let i = 0; i < ring.length; i += 2) {
    [minE, maxE] = [Math.min(minE, ring[i]!), Math.max(maxE, ring[i]!)];
    [minN, maxN] = [Math.min(minN, ring[i + 1]!), Math.max(maxN, ring[i + 1]!)];
  }
  return [minE, minN, maxE, maxN];
}

/** The place beside the middle of an edge, so far to its left. */
function beside({ ae, an, be, bn }: Ends, leftM: number): [number, number] {
  const lengthM = Math.hypot(be - ae, bn - an);
  const [ue, un] = [(be - ae) / lengthM, (bn - an) / lengthM];
  return [(ae + be) / 2 - leftM * un, (an + bn) / 2 + leftM * ue];
}

/** Edges shorter than this ask for no more than the edges at their ends, metres. */
const SHORT_M = 0.025;
/** Ends nearer than this are one place, metres. */
const SAME_M = 0.001;

/** Outlines are cut where they meet; slips of edge between two cuts are no edges of their own. */
function relaxed(edges: readonly Asking[]): Asking[] {
  const isShort = ({ ae, an, be, bn }: Asking) => Math.hypot(be - ae, bn - an) < SHORT_M;
  if (!edges.some(isShort)) return [...edges];
  const tree = new SegmentTree(edges.flatMap(({ ae, an, be, bn }) => [ae, an, be, bn]));
  return edges.map((one) => {
    if (!isShort(one)) return one;
    const near = tree.around(one.ae, one.an, one.be, one.bn, SAME_M);
    const beside = near.filter((i) => !isShort(edges[i]!)).map((i) => edges[i]!.setinM);
    return { ...one, setinM: Math.min(one.setinM, ...beside) };
  });
}
