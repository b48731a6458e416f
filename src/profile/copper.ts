/**
 * Greatest resistance of plain copper conductors at 20 °C, ohm per kilometre, by cross-section in
 * mm². IEC 60228, classes 1 and 2 (solid, stranded) and class 5 (flexible), from memory.
 */
export const COPPER_OHM_PER_KM = {
  solid: { "0.5": 36, "0.75": 24.5, "1": 18.1, "1.5": 12.1, "2.5": 7.41, "4": 4.61 },
  flexible: { "0.5": 39, "0.75": 26, "1": 19.5, "1.5": 13.3, "2.5": 7.98, "4": 4.95 },
} as const;
