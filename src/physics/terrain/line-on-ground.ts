import type { LineM } from "../../model/geometry.ts";
import type { HeightLattice, LengthOnGround } from "../../model/terrain.ts";
import { heightAt } from "./height-at.ts";

/** A line measured on the ground, and where on it a chainage falls. */
export interface LineOnGround extends LengthOnGround {
  readonly lowestM: number;
  readonly highestM: number;
  /** First place without a height. */
  readonly unknownAtM: readonly [number, number] | undefined;
  /** Chainage on the ground of a flat chainage, metres. */
  chainageOf(flatM: number): number;
}

/**
 * Measures a line on the ground: cut into pieces of half a lattice step at most, each piece straight
 * from height to height. On even slopes that is exact; over a hill the chords fall short by less
 * than the heights themselves are uncertain. Pieces with an unknown end count as flat.
 */
export function lineOnGround(line: LineM, lattice: HeightLattice): LineOnGround {
  const flatM = [0];
  const groundM = [0];
  let [flat, ground, unknownM] = [0, 0, 0];
  let [lowestM, highestM] = [Infinity, -Infinity];
  let unknownAtM: readonly [number, number] | undefined;
  let before = heightAt(lattice, line[0]!, line[1]!);
  const take = (heightM: number) => {
    if (heightM < lowestM) lowestM = heightM;
    if (heightM > highestM) highestM = heightM;
  };
  take(before);
  for (let i = 0; i + 3 < line.length; i += 2) {
    const [e, n] = [line[i]!, line[i + 1]!];
    const [de, dn] = [line[i + 2]! - e, line[i + 3]! - n];
    const lengthM = Math.hypot(de, dn);
    const pieces = Math.max(1, Math.ceil((2 * lengthM) / lattice.stepM));
    const pieceM = lengthM / pieces;
    for (let k = 1; k <= pieces; k++) {
      const here = heightAt(lattice, e + (de * k) / pieces, n + (dn * k) / pieces);
      const rise = here - before;
      if (Number.isNaN(rise)) {
        unknownM += pieceM;
        unknownAtM ??= [e + (de * k) / pieces, n + (dn * k) / pieces];
        ground += pieceM;
      } else ground += Math.hypot(pieceM, rise);
      flat += pieceM;
      flatM.push(flat);
      groundM.push(ground);
      take(here);
      before = here;
    }
  }
  const chainageOf = (at: number): number => {
    let [low, high] = [0, flatM.length - 1];
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if (flatM[middle]! <= at) low = middle;
      else high = middle;
    }
    const spanM = flatM[high]! - flatM[low]!;
    const share = spanM > 0 ? (at - flatM[low]!) / spanM : 0;
    return groundM[low]! + share * (groundM[high]! - groundM[low]!);
  };
  return { groundM: ground, unknownM, lowestM, highestM, unknownAtM, chainageOf };
}
