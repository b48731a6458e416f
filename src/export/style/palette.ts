/**
 * Colours for people who see all, some or none of them: the eight of Okabe and Ito, "Color Universal
 * Design" (2002, revised 2008), https://jfly.uni-koeln.de/color/, and white.
 */
export const PALETTE = {
  black: "#000000",
  white: "#ffffff",
  orange: "#e69f00",
  skyBlue: "#56b4e9",
  green: "#009e73",
  yellow: "#f0e442",
  blue: "#0072b2",
  vermilion: "#d55e00",
  purple: "#cc79a7",
} as const;

/** `#rrggbb`. */
export type Colour = (typeof PALETTE)[keyof typeof PALETTE];

/** Red, green and blue of a colour, 0 to 255. */
export function channelsOf(colour: string): [red: number, green: number, blue: number] {
  const value = Number.parseInt(colour.slice(1), 16);
  return [value >> 16, (value >> 8) & 255, value & 255];
}
