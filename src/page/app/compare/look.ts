/** How what is in one plan only is drawn: told apart by form, not by colour alone. */
import CircleStyle from "ol/style/Circle.js";
import RegularShape from "ol/style/RegularShape.js";
import Stroke from "ol/style/Stroke.js";
import Style from "ol/style/Style.js";
import { PALETTE } from "../../../export/style/palette.ts";
import type { In } from "../../model/compare-plans.ts";
import type { Look } from "../map/look.ts";

export interface CompareStyles {
  readonly wire: Readonly<Record<Exclude<In, "both">, Style[]>>;
  readonly peg: Readonly<Record<Exclude<In, "both">, Style[]>>;
}

export function compareStyles(look: Look): CompareStyles {
  const { ground, weight } = look;
  const [here, there] = coloursOf(look);
  return {
    wire: {
      // A rail on either side of the wire, which itself stays as it is.
      here: [
        line(here, 7.5 * weight),
        line(ground, 4.6 * weight),
        line(look.colour(PALETTE.blue), 2.2 * weight),
      ],
      there: [line(ground, 4.6 * weight), line(there, 2.6 * weight, [9, 6])],
    },
    peg: {
      here: [
        new Style({
          image: new CircleStyle({ radius: 8, stroke: new Stroke({ color: here, width: 2 }) }),
        }),
      ],
      there: [
        new Style({
          image: new RegularShape({
            points: 4,
            radius: 6,
            radius2: 0,
            angle: Math.PI / 4,
            stroke: new Stroke({ color: there, width: 2 }),
          }),
        }),
      ],
    },
  };
}

/** Of what is only here, and of what is only there. */
export function coloursOf(look: Look): [here: string, there: string] {
  if (look.name === "forced") return [look.ink, look.ink];
  return [look.colour(PALETTE.orange), look.colour(PALETTE.vermilion)];
}

function line(color: string, width: number, lineDash?: number[]): Style {
  return new Style({
    stroke: new Stroke({
      color,
      width,
      ...(lineDash && { lineDash, lineCap: "butt" as const }),
    }),
  });
}
