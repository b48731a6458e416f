import type { Colour } from "../style/palette.ts";
import { type StyleName, styleNamed } from "../style/plan-style.ts";

/** Pixels of a millimetre on a screen of 96 dots an inch, on which viewers count. */
const PIXELS_PER_MM = 96 / 25.4;

/** `aabbggrr`, as KML has colours. */
export function kmlColour(colour: Colour, opacity = 1): string {
  const [red, green, blue] = [1, 3, 5].map((at) => colour.slice(at, at + 2));
  const alpha = Math.round(255 * opacity)
    .toString(16)
    .padStart(2, "0");
  return `${alpha}${blue}${green}${red}`;
}

/** A shared style. Parts in the order of the schema: IconStyle, LabelStyle, LineStyle, PolyStyle. */
export function kmlStyle(name: StyleName, icon: string | undefined): string {
  const { stroke, fill, marker } = styleNamed(name);
  const parts: string[] = [];
  if (marker) {
    // Our icons have their colours; a viewer's own is tinted.
    const colour = icon === undefined ? `<color>${kmlColour(marker.fill)}</color>` : "";
    const scale = icon === undefined ? 0.5 : marker.sizeMm / 8;
    const image = icon === undefined ? "" : `<Icon><href>${icon}</href></Icon>`;
    const centre =
      icon === undefined ? "" : '<hotSpot x="0.5" y="0.5" xunits="fraction" yunits="fraction"/>';
    parts.push(`<IconStyle>${colour}<scale>${scale}</scale>${image}${centre}</IconStyle>`);
    parts.push("<LabelStyle><scale>0.7</scale></LabelStyle>");
  }
  if (stroke) {
    const width = Math.max(1, stroke.widthMm * PIXELS_PER_MM).toFixed(1);
    parts.push(
      `<LineStyle><color>${kmlColour(stroke.colour)}</color><width>${width}</width></LineStyle>`,
    );
  }
  if (fill) {
    const outline = stroke === undefined ? 0 : 1;
    parts.push(
      `<PolyStyle><color>${kmlColour(fill.colour, fill.opacity)}</color><fill>1</fill><outline>${outline}</outline></PolyStyle>`,
    );
  }
  return `<Style id="${name}">${parts.join("")}</Style>`;
}
