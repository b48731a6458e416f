/** Sizes of the drawings on a screen: CSS pixels, of which an inch has 96. */
export const PX_PER_MM = 96 / 25.4;

export const px = (mm: number) => mm * PX_PER_MM;
