/** How a plan is handed over: language, units, and which lists beside guide, materials and pegs. */

/** Languages of the texts for the crew, by their tags (BCP 47). */
export const LANGUAGES = ["en", "de"] as const;
export type Language = (typeof LANGUAGES)[number];

/** Metres in one unit of length: the international foot is exact since 1959. */
export const LENGTH_UNITS = { m: 1, ft: 0.3048 } as const;
export type LengthUnit = keyof typeof LENGTH_UNITS;

/** Lists that are written on demand. */
export const LISTS = ["reels", "ties", "offsets", "points", "gpx"] as const;
export type ListName = (typeof LISTS)[number];

/** All may be left out. */
export interface HandOverOptions {
  /** Language of the guide and of the names of materials; English where left out. */
  readonly language?: Language | undefined;
  /** Unit of lengths in guide and lists; metres where left out. */
  readonly units?: LengthUnit | undefined;
  readonly lists?: readonly ListName[] | undefined;
}
