/** What the judge lets pass, and why. docs/judge.md has them beside their rules. */

/** Shortfall of set-in: the contract's 10 mm, for pegs that sit where the ground lets them, metres. */
export const SETIN_SLACK_M = 0.01;
/** A peg may stand this far from the wire, and a vertex this far from a peg (contract), metres. */
export const PEG_REACH_M = 0.01;
/** Positions are written to 0.1 mm in degrees; a length along many of them differs by this, metres. */
export const WRITTEN_M = 0.001;
/** The same for long lengths, as a share: two projections of one site differ by 2 ppm. */
export const WRITTEN_SHARE = 2e-6;
/** Spans over the limit by rounding of both ends, metres. */
export const SPAN_SLACK_M = 0.0002;
/** Wires nearer than this touch, metres. */
export const TOUCH_M = 0.001;
/** Nearer than this to a firm thing that stands free the wire runs into it, metres. */
export const FIRM_CLEAR_M = 0.02;

/** What a stated length may differ from the measured one, metres. */
export function lengthSlackM(lengthM: number): number {
  return WRITTEN_M + WRITTEN_SHARE * lengthM;
}
