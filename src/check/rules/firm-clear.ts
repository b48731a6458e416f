import { FIRM_CLEAR_M } from "../allowances.ts";
import { FIRM } from "../ground/pieces.ts";
import { type Gap, gapBetween } from "../kernel/plane.ts";
import { measured, notMeasured, type Place, worstPlaces } from "../measure.ts";
import type { Rule } from "../rule.ts";

const SHOWN_M = 2;

/** A firm thing inside the wire needs no loop, but the wire must not run into it. */
export const firmClear: Rule = {
  id: "firm-clear",
  code: "WIRE_HITS_FIRM_THING",
  title: "least distance of wire from a firm thing that stands inside it",
  measure({ ground, wires }) {
    const gap: Gap = { distanceM: 0, t: 0, u: 0 };
    const { ends } = wires.tree;
    const places: Place<string>[] = [];
    let least = Infinity;
    for (const piece of ground.pieces) {
      const { thing, area } = piece;
      if (thing?.contact !== "firm" || (piece.left !== FIRM && piece.right !== FIRM)) continue;
      if (!ground.isShutIn(area)) continue;
      for (const s of wires.tree.around(piece.ae, piece.an, piece.be, piece.bn, SHOWN_M)) {
        const k = 4 * s;
        gapBetween(
          ends[k]!,
          ends[k + 1]!,
          ends[k + 2]!,
          ends[k + 3]!,
          piece.ae,
          piece.an,
          piece.be,
          piece.bn,
          gap,
        );
        if (gap.distanceM < least) least = gap.distanceM;
        if (gap.distanceM < FIRM_CLEAR_M) {
          const atM = wires.pointAt(s, gap.t);
          places.push({ atM, amount: FIRM_CLEAR_M - gap.distanceM, of: thing.name });
        }
      }
    }
    if (least === Infinity) {
      return notMeasured(
        "m",
        "at least",
        `no firm thing inside the wire within ${SHOWN_M} m of it`,
      );
    }
    const breaches = worstPlaces(places).map(({ atM, amount, of }) => ({
      message: `Wire lies ${(FIRM_CLEAR_M - amount).toFixed(3)} m from ${of}, which is firm and stands inside it.`,
      remedy: "Lead the wire round it, at its set-in.",
      atM,
    }));
    return measured("m", "at least", least, FIRM_CLEAR_M, breaches);
  },
};
