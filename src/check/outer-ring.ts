/**
 * Which wire is the outer ring of its loop. Wire goes out along a pair and comes back along it: what
 * lies between is round an island. So the wire falls into rings where it runs as a pair; the outer ring
 * goes anticlockwise, those round islands clockwise.
 */

/** What of `Wires` is asked here. */
interface PairedWires {
  readonly count: number;
  readonly starts: Int32Array;
  readonly alongM: Float64Array;
  readonly tree: { readonly ends: Float64Array };
  readonly paired: ReadonlyMap<number, readonly { readonly partner: number }[]>;
  isPaired(s: number, share: number): boolean;
}

/** @returns 1 for each segment on an outer ring, 0 for pairs and wire round islands */
export function outerOf(wires: PairedWires): Uint8Array {
  const ringOf = new Int32Array(wires.count).fill(-1);
  const twiceM2: number[] = [];
  const firstOf: number[] = [];
  const { ends } = wires.tree;
  for (let l = 0; l + 1 < wires.starts.length; l++) {
    // Pairs that the wire went out along and has not come back by yet: where it will have.
    const open: { backAtM: number; ring: number }[] = [];
    const base = twiceM2.push(0) - 1;
    for (let s = wires.starts[l]!; s < wires.starts[l + 1]!; s++) {
      const hereM = wires.alongM[s]!;
      while (open.length > 0 && open[open.length - 1]!.backAtM <= hereM) open.pop();
      const back = wires.paired.get(s)?.map(({ partner }) => wires.alongM[partner]!);
      if (!back || !wires.isPaired(s, 0.5)) {
        const ring = open[open.length - 1]?.ring ?? base;
        ringOf[s] = ring;
        // About the ring's own first vertex: gaps where pairs leave it count for little.
        firstOf[ring] ??= s;
        const o = 4 * firstOf[ring]!;
        const k = 4 * s;
        twiceM2[ring]! +=
          (ends[k]! - ends[o]!) * (ends[k + 3]! - ends[o + 1]!) -
          (ends[k + 2]! - ends[o]!) * (ends[k + 1]! - ends[o + 1]!);
      }
      const backAtM = Math.max(...(back ?? []), 0);
      if (backAtM > hereM) open.push({ backAtM, ring: twiceM2.push(0) - 1 });
    }
  }
  return Uint8Array.from(ringOf, (ring) => (ring >= 0 && twiceM2[ring]! > 0 ? 1 : 0));
}
