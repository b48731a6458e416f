import { channelsOf, PALETTE } from "../style/palette.ts";
import { type FeatureStyle, type StyleName, styleNamed } from "../style/plan-style.ts";

/** A layer of the drawing, on which everything of one style lies. */
export interface DxfLayer {
  readonly name: string;
  /** Nearest of the 255 numbered colours, for programs that know no others. */
  readonly colourNumber: number;
  /** Red, green and blue in one number. */
  readonly trueColour: number;
  readonly lineType: string;
  /** Hundredths of a millimetre, one of the widths that the format has; -3 for the usual one. */
  readonly lineWeight: number;
  /** True where it is not shown until someone turns it on. */
  readonly isOff?: true;
}

/** Numbered colours next to the palette; black is 7, which is white on a black screen. */
const NUMBERS: Readonly<Record<string, number>> = {
  [PALETTE.black]: 7,
  [PALETTE.white]: 7,
  [PALETTE.orange]: 40,
  [PALETTE.skyBlue]: 140,
  [PALETTE.green]: 122,
  [PALETTE.yellow]: 2,
  [PALETTE.blue]: 152,
  [PALETTE.vermilion]: 30,
  [PALETTE.purple]: 231,
};

/** Widths of lines that the format has, hundredths of a millimetre (group 370). */
const WEIGHTS = [
  0, 5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70, 80, 90, 100, 106, 120, 140, 158, 200,
  211,
];

/** Metres in the drawing for a millimetre on paper: as on a sheet of 1 : 100. */
export const METRES_PER_MM = 0.1;

export const layerName = (style: string): string => style.toUpperCase();
export const textLayerName = (style: string): string => `${layerName(style)}-TEXT`;

const mainColour = ({ stroke, fill, marker }: FeatureStyle): string =>
  stroke?.colour ?? fill?.hatch?.colour ?? fill?.colour ?? marker?.stroke.colour ?? PALETTE.black;

export function layerOf(name: StyleName): DxfLayer {
  const style = styleNamed(name);
  const colour = mainColour(style);
  const [red, green, blue] = channelsOf(colour);
  const widthMm = style.stroke?.widthMm ?? style.fill?.hatch?.widthMm ?? 0.25;
  return {
    name: layerName(name),
    colourNumber: NUMBERS[colour] ?? 7,
    trueColour: (red << 16) | (green << 8) | blue,
    lineType: style.stroke?.dashMm ? layerName(name) : "Continuous",
    lineWeight: WEIGHTS.reduce((best, one) =>
      Math.abs(one - 100 * widthMm) < Math.abs(best - 100 * widthMm) ? one : best,
    ),
  };
}

/** A plain layer, for text and for kinds without a style. */
export function plainLayer(name: string): DxfLayer {
  return { name, colourNumber: 7, trueColour: 0, lineType: "Continuous", lineWeight: 13 };
}

/** A layer for the text beside features of a style; codes of findings stand in each other's way. */
export function textLayer(style: string): DxfLayer {
  const layer = plainLayer(textLayerName(style));
  return style.startsWith("finding") ? { ...layer, isOff: true } : layer;
}
