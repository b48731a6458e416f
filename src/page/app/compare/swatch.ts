/** Small pictures for the key to the map. */
import { PALETTE } from "../../../export/style/palette.ts";
import type { In } from "../../model/compare-plans.ts";
import type { Look } from "../map/look.ts";
import { coloursOf } from "./look.ts";

const SVG = "http://www.w3.org/2000/svg";

/** A stretch of wire as it is drawn on the map. */
export function swatch(where: In, look: Look): SVGSVGElement {
  const [here, there] = coloursOf(look);
  const blue = look.colour(PALETTE.blue);
  const lines: Record<In, readonly (readonly [colour: string, width: number, dash?: string])[]> = {
    both: [[blue, 2.6]],
    here: [
      [here, 7.5],
      [look.ground, 4.6],
      [blue, 2.2],
    ],
    there: [[there, 2.6, "9 6"]],
  };
  const svg = document.createElementNS(SVG, "svg");
  svg.setAttribute("viewBox", "0 0 40 14");
  svg.setAttribute("class", "swatch");
  svg.setAttribute("aria-hidden", "true");
  for (const [colour, width, dash] of lines[where]) {
    const line = document.createElementNS(SVG, "path");
    line.setAttribute("d", "M1 7h38");
    line.setAttribute("fill", "none");
    line.setAttribute("stroke", colour);
    line.setAttribute("stroke-width", String(width));
    if (dash) line.setAttribute("stroke-dasharray", dash);
    svg.append(line);
  }
  return svg;
}
