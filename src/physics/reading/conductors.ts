/**
 * Greatest resistance of plain copper conductors at 20 °C, ohm per kilometre, by cross-section in
 * mm². IEC 60228, classes 1 and 2 (solid, stranded) and class 5 (flexible), from memory.
 */
export const COPPER_OHM_PER_KM: Readonly<
  Record<"solid" | "flexible", Readonly<Record<string, number>>>
> = {
  solid: { "0.5": 36.0, "0.75": 24.5, "1": 18.1, "1.5": 12.1, "2.5": 7.41, "4": 4.61 },
  flexible: { "0.5": 39.0, "0.75": 26.0, "1": 19.5, "1.5": 13.3, "2.5": 7.98, "4": 4.95 },
};

/**
 * Factor from the resistance of copper at 20 °C to that at another temperature:
 * (234.5 + t) / 254.5 (IEC 60228, correction formula, from memory). 1 at 20 °C.
 *
 * @param temperatureC temperature of the wire, °C
 */
export function copperFactor(temperatureC: number): number {
  return (234.5 + temperatureC) / 254.5;
}
