import { copperFactor } from "./copper-factor.ts";

/** What a meter across the two ends of a loop shows, when the loop is sound. Ohm. */
export interface LoopReading {
  /** Expected at 20 °C: laid wire and its trimmed ends. */
  readonly at20Ohm: number;
  /** The same in ground of 0 °C and of 35 °C. */
  readonly coldOhm: number;
  readonly warmOhm: number;
  /** Below this, wire is missing from the circuit. */
  readonly leastOhm: number;
  /** Above this, a joint or terminal is bad. */
  readonly mostOhm: number;
}

/** What of a loop its reading follows from. */
export interface ReadingInput {
  /** Wire laid, as drawn, metres. */
  readonly wireM: number;
  /** How much longer it may lie than drawn, as a share. */
  readonly slackShare: number;
  /** Resistance of the conductor at 20 °C, ohm per kilometre. */
  readonly ohmPerKm: number;
  readonly joints: number;
}

/**
 * Bounds of a good reading. All three are common practice, without a published source: wire may be
 * thicker than its class asks or laid a little shorter; a sound coupler is well below 0.05 ohm; a
 * meter and its leads add some tenths.
 */
export const READING_BOUNDS = {
  lessShare: 0.12,
  moreShare: 0.05,
  jointOhm: 0.05,
  meterOhm: 0.3,
} as const;

/** What is left of each spare end at the terminals, metres: common practice. */
export const TRIMMED_END_M = 0.15;

/** Temperatures of wire in the ground through a season, °C: common practice. */
export const GROUND_C = { cold: 0, warm: 35 } as const;

/** Expected reading of a loop and the window in which it is good. */
export function loopReading({ wireM, slackShare, ohmPerKm, joints }: ReadingInput): LoopReading {
  const at20Ohm = ((wireM + 2 * TRIMMED_END_M) * ohmPerKm) / 1000;
  const coldOhm = at20Ohm * copperFactor(GROUND_C.cold);
  const warmOhm = at20Ohm * copperFactor(GROUND_C.warm);
  const { lessShare, moreShare, jointOhm, meterOhm } = READING_BOUNDS;
  return {
    at20Ohm,
    coldOhm,
    warmOhm,
    leastOhm: coldOhm * (1 - lessShare),
    mostOhm: warmOhm * (1 + slackShare) * (1 + moreShare) + joints * jointOhm + meterOhm,
  };
}

export type ReadingMeaning = "open" | "high" | "good" | "low";

/**
 * What a meter's value means.
 *
 * @param measuredOhm what the meter shows; `Infinity` where it shows no circuit
 */
export function meaningOf(measuredOhm: number, reading: LoopReading): ReadingMeaning {
  // A broken wire in damp ground still leaks: kilo-ohms are as open as none.
  if (measuredOhm > 20 * reading.mostOhm + 100) return "open";
  if (measuredOhm > reading.mostOhm) return "high";
  return measuredOhm < reading.leastOhm ? "low" : "good";
}
