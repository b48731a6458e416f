/**
 * What is left of the signal over a paired run, as a share of the strongest that a single wire
 * shows at the same height.
 *
 * Two long wires with opposite currents, `gapM` apart, seen from `heightM` over the middle between
 * them: their upward fields add to µ0 I/2π · d/(h² + d²/4). A single wire is strongest at h to one
 * side, µ0 I/4πh. The share is 2dh/(h² + d²/4), about 2d/h for a close pair. Elementary, from the
 * field of a long straight wire (Griffiths, Introduction to Electrodynamics, example 5.5, from
 * memory).
 *
 * @param gapM distance between the two wires, metres
 * @param heightM height of the machine's pick-up over the ground, metres
 */
export function pairResidue(gapM: number, heightM: number): number {
  return (2 * gapM * heightM) / (heightM * heightM + (gapM * gapM) / 4);
}
