/** Where a fault lies by readings at both ends of a broken or leaking wire. */

/** A place along the wire and how sure it is. */
export interface FaultEstimate {
  /** From the start of the wire, metres. */
  readonly chainageM: number;
  /** Standard uncertainty, metres. */
  readonly uncertaintyM: number;
}

/**
 * Uncertainties of readings, as standard deviations. Common practice, without a published source:
 * a hand meter reads capacitance to about 2 %, and ground that is wetter at one end than at the
 * other moves it by some 5 %; resistance to 1 % and a tenth of an ohm; wire differs by 3 % from the
 * resistance of its class.
 */
export const READING_ERRORS = {
  capacitance: 0.055,
  resistance: 0.01,
  leastOhm: 0.1,
  wire: 0.03,
} as const;

/**
 * A clean break by the capacitance to earth of the two pieces: each is in proportion to its length
 * as far as the ground is alike. Both are measured between the disconnected end and the same earth
 * pin.
 *
 * @param startNf from the end where the wire is laid out, nanofarad
 * @param endNf from the end where it comes back
 */
export function byCapacitance(lengthM: number, startNf: number, endNf: number): FaultEstimate {
  const share = startNf / (startNf + endNf);
  const error = share * (1 - share) * Math.SQRT2 * READING_ERRORS.capacitance;
  return { chainageM: share * lengthM, uncertaintyM: error * lengthM };
}

/**
 * A leak to earth in wire that is whole, by resistance to one earth pin from both ends: each reads
 * the wire up to the fault and the fault itself, so half their difference is the way from the
 * middle (Ohm's law). The fault must stay as it is between the two readings.
 *
 * @returns undefined where the readings differ by more than the whole wire has
 */
export function byLeak(
  lengthM: number,
  ohmPerKm: number,
  startOhm: number,
  endOhm: number,
): FaultEstimate | undefined {
  const ohmPerM = ohmPerKm / 1000;
  const fromMiddleM = (startOhm - endOhm) / (2 * ohmPerM);
  const errorOf = (ohm: number): number =>
    Math.max(READING_ERRORS.leastOhm, READING_ERRORS.resistance * ohm);
  const meterM = Math.hypot(errorOf(startOhm), errorOf(endOhm)) / (2 * ohmPerM);
  const uncertaintyM = Math.hypot(meterM, READING_ERRORS.wire * fromMiddleM);
  if (Math.abs(fromMiddleM) > lengthM / 2 + 3 * uncertaintyM) return undefined;
  const chainageM = Math.min(lengthM, Math.max(0, lengthM / 2 + fromMiddleM));
  return { chainageM, uncertaintyM };
}
