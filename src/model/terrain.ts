/** Metres in one unit of height. */
export const HEIGHT_UNITS = { m: 1, ft: 0.3048, "us-ft": 1200 / 3937 } as const;
export type HeightUnit = keyof typeof HEIGHT_UNITS;
