import type { AreaM, PointM } from "../../model/geometry.ts";
import type { Case } from "../case.ts";
import { crossingShare, meet } from "../kernel/plane.ts";
import { endsOfRings, SegmentTree } from "../kernel/segment-tree.ts";
import { insideOf, type Winding } from "../kernel/winding.ts";
import { measured, notMeasured, type Place, worstPlaces } from "../measure.ts";
import type { Rule } from "../rule.ts";

/** Pieces of wire no longer than this in an area are rounding, metres. */
const SLACK_M = 0.01;

/** Wire that must keep out: a straight piece of it, and what it is for people. */
interface Piece {
  readonly from: PointM;
  readonly to: PointM;
  readonly what: string;
}

/**
 * No paired run and no guide wire lies where the site wants no wire. Both wires of a pair count. The
 * boundary wire follows the lawn's edge wherever that leads: it is not asked.
 */
export const noWire: Rule = {
  id: "no-wire",
  code: "WIRE_IN_BARRED_GROUND",
  title: "paired runs and guide wires in areas without wire: metres",
  measure(court) {
    const barred = (court.site.runGround ?? []).filter(({ factor }) => factor === "barred");
    if (barred.length === 0) {
      return notMeasured("m", "at most", "the site has no area without wire");
    }
    const pieces = [...pairedPieces(court), ...guidePieces(court)];
    const lines = new SegmentTree(pieces.flatMap(({ from, to }) => [...from, ...to]));
    const places: Place<{ what: string; area: string }>[] = [];
    let insideM = 0;
    for (const { area, name } of barred) {
      for (const { piece, lengthM, atM } of inArea(area, pieces, lines)) {
        // Where a corner of it is cut by a hair no wire lies in an area.
        if (lengthM <= SLACK_M) continue;
        insideM += lengthM;
        places.push({ atM, amount: lengthM, of: { what: piece.what, area: name } });
      }
    }
    const breaches = worstPlaces(places).map(({ atM, of }) => ({
      message: `${of.what} lies in ${of.area}, where no wire may lie.`,
      remedy: "Lead it round the area, or take wire = no off it.",
      atM,
    }));
    return measured("m", "at most", insideM, 0, breaches);
  },
};

/** Wire beside which the other wire of a pair lies, by its geometry alone. */
function pairedPieces({ wires }: Case): Piece[] {
  return [...wires.paired].flatMap(([s, stretches]) => {
    const what = `A paired run of loop ${wires.nameOf(s)}`;
    return stretches.map(({ from, to }) => ({
      from: wires.pointAt(s, from),
      to: wires.pointAt(s, to),
      what,
    }));
  });
}

function guidePieces({ plan }: Case): Piece[] {
  return plan.loops.flatMap(({ name, guideWires }) =>
    guideWires.flatMap(({ line }) => {
      const pieces: Piece[] = [];
      for (let i = 0; i + 3 < line.length; i += 2) {
        const [ae, an, be, bn] = [line[i]!, line[i + 1]!, line[i + 2]!, line[i + 3]!];
        pieces.push({ from: [ae, an], to: [be, bn], what: `The guide wire of loop ${name}` });
      }
      return pieces;
    }),
  );
}

/** What of some pieces lies in an area: cut at its outline, each cut told by its middle. */
function inArea(area: AreaM, pieces: readonly Piece[], lines: SegmentTree) {
  const inside = insideOf(area);
  const borders = new SegmentTree(endsOfRings([area.shell, ...area.holes]));
  const [minE, minN, maxE, maxN] = inside.box;
  return lines.around(minE, minN, maxE, maxN, 0).flatMap((i) => {
    const piece = pieces[i]!;
    const whole = Math.hypot(piece.to[0] - piece.from[0], piece.to[1] - piece.from[1]);
    const shares = cutsOf(piece, borders);
    return shares.slice(1).flatMap((to, k) => {
      const from = shares[k]!;
      const atM = pointOn(piece, (from + to) / 2);
      return to > from && holds(inside, atM) ? [{ piece, lengthM: (to - from) * whole, atM }] : [];
    });
  });
}

/** Shares of a piece at which it meets an outline, with its ends, in order. */
function cutsOf({ from: [ae, an], to: [be, bn] }: Piece, borders: SegmentTree): number[] {
  const shares = [0, 1];
  const { ends } = borders;
  for (const s of borders.around(ae, an, be, bn, 0)) {
    const k = 4 * s;
    const [ce, cn, de, dn] = [ends[k]!, ends[k + 1]!, ends[k + 2]!, ends[k + 3]!];
    if (meet(ae, an, be, bn, ce, cn, de, dn)) {
      shares.push(crossingShare(ae, an, be, bn, ce, cn, de, dn));
    }
  }
  return shares.sort((x, y) => x - y);
}

function pointOn({ from, to }: Piece, share: number): PointM {
  return [from[0] + share * (to[0] - from[0]), from[1] + share * (to[1] - from[1])];
}

function holds(inside: Winding, [e, n]: PointM): boolean {
  return inside.at(e, n) % 2 !== 0;
}
