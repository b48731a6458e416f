/**
 * Makes a failing sketch small by leaving things out: pieces, changes to the machine, vertices,
 * decimals, the placing. Greedy, after delta debugging (Zeller and Hildebrandt, Simplifying and
 * isolating failure-inducing input, 2002; from memory); whatever still fails in the same way stays.
 */
import type { Xy } from "../support/plane.ts";
import type { Piece, Sketch } from "./sketch.ts";

/** @param tries how many sketches may be planned to this end */
export async function minimised(
  sketch: Sketch,
  fails: (sketch: Sketch) => Promise<boolean>,
  tries = 250,
): Promise<Sketch> {
  let best = sketch;
  let left = tries;
  const attempt = async (one: Sketch): Promise<boolean> => {
    if (left-- <= 0 || !one.pieces.some((piece) => piece.is.role === "lawn")) return false;
    if (!(await fails(one))) return false;
    best = one;
    return true;
  };
  for (let round = 0; round < 3; round++) {
    const before = JSON.stringify(best);
    for (let i = best.pieces.length - 1; i >= 0; i--) {
      await attempt({ ...best, pieces: best.pieces.filter((_, k) => k !== i) });
    }
    for (const key of Object.keys(best.machine).filter((name) => name !== "based_on")) {
      const { [key as "pegs"]: _, ...machine } = best.machine;
      await attempt({ ...best, machine });
    }
    const { parts: _, ...without } = best;
    if (best.parts) await attempt(without);
    if (!best.split) await attempt({ ...best, split: true });
    await attempt({ ...best, placing: { lon: -28.5, lat: 47.2, turnDeg: 0, shift: [0, 0] } });
    for (let i = 0; i < best.pieces.length; i++) {
      for (const smaller of simpler(best.pieces[i]!)) {
        await attempt({ ...best, pieces: best.pieces.map((one, k) => (k === i ? smaller : one)) });
      }
      // Runs of vertices, longest first, from a ring that may grow shorter as they go.
      for (let run = Math.ceil(size(best.pieces[i]!) / 2); run >= 1; run = Math.floor(run / 2)) {
        for (let from = 0; from < size(best.pieces[i]!); from += run) {
          const cut = shortened(best.pieces[i]!, from, run);
          if (cut)
            await attempt({ ...best, pieces: best.pieces.map((p, k) => (k === i ? cut : p)) });
        }
      }
    }
    for (const per of [10, 100, 1000]) {
      const rounding = (piece: Piece) =>
        moved(piece, ([x, y]) => [Math.round(x * per) / per, Math.round(y * per) / per]);
      if (await attempt({ ...best, pieces: best.pieces.map(rounding) })) break;
    }
    if (left <= 0 || JSON.stringify(best) === before) break;
  }
  return best;
}

function size(piece: Piece): number {
  return "area" in piece ? piece.area[0]!.length : "line" in piece ? piece.line.length : 0;
}

function shortened(piece: Piece, from: number, run: number): Piece | undefined {
  const cut = (line: readonly Xy[]) => line.filter((_, k) => k < from || k >= from + run);
  if ("area" in piece) {
    const shell = cut(piece.area[0]!);
    return shell.length < 3 ? undefined : { ...piece, area: [shell, ...piece.area.slice(1)] };
  }
  if (!("line" in piece)) return undefined;
  const line = cut(piece.line);
  return line.length < 2 ? undefined : { ...piece, line };
}

/** The piece without its holes, and without each of its attributes but the role. */
function simpler(piece: Piece): Piece[] {
  const found: Piece[] = [];
  if ("area" in piece && piece.area.length > 1)
    found.push({ ...piece, area: piece.area.slice(0, 1) });
  for (const key of Object.keys(piece.is).filter((name) => name !== "role")) {
    const { [key]: _, ...is } = piece.is;
    found.push({ ...piece, is });
  }
  return found;
}

/** A piece with every point moved. */
export function moved(piece: Piece, move: (at: Xy) => Xy): Piece {
  if ("area" in piece) return { ...piece, area: piece.area.map((ring) => ring.map(move)) };
  if ("line" in piece) return { ...piece, line: piece.line.map(move) };
  return { ...piece, point: move(piece.point) };
}
