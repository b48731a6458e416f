/** A sheet as SVG (1.1): true to scale, one user unit a millimetre, text as text. */

import { xmlAttribute, xmlText } from "../../escape/xml.ts";
import { encodeBase64 } from "../base64.ts";
import type { FillMm, LineMm, Shape, Sheet, StrokeMm } from "./scene.ts";

/** Families with the same widths as the lettering, then any. */
const FAMILY = "Arimo, 'Liberation Sans', Arial, Helvetica, sans-serif";

/** The page as an SVG document. Same sheet, same text. */
export function sheetSvg({ title, widthMm, heightMm, items }: Sheet): string {
  const clips: string[] = [];
  const body = items.map((item) => shapeSvg(item, clips)).join("\n");
  const defs = clips.length > 0 ? `<defs>\n${clips.join("\n")}\n</defs>\n` : "";
  return `<?xml version="1.0" encoding="UTF-8"?>
<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" version="1.1" width="${num(widthMm)}mm" height="${num(heightMm)}mm" viewBox="0 0 ${num(widthMm)} ${num(heightMm)}" font-family="${xmlAttribute(FAMILY)}">
<title>${xmlText(title)}</title>
<rect width="${num(widthMm)}" height="${num(heightMm)}" fill="#ffffff"/>
${defs}${body}
</svg>
`;
}

/** Three decimals of a millimetre, without what says nothing. */
export function num(value: number): string {
  return String(Math.round(value * 1000) / 1000 + 0);
}

function shapeSvg(shape: Shape, clips: string[]): string {
  switch (shape.kind) {
    case "path":
      return `<path d="${shape.lines.map(pathData).join("")}"${fillSvg(shape.fill)}${strokeSvg(shape.stroke)}/>`;
    case "text": {
      const { text, x, y, sizeMm, bold, colour, anchor, angleDeg } = shape;
      const turn = angleDeg ? ` transform="rotate(${num(-angleDeg)} ${num(x)} ${num(y)})"` : "";
      return `<text x="${num(x)}" y="${num(y)}" font-size="${num(sizeMm)}"${bold ? ' font-weight="bold"' : ""}${colour ? ` fill="${colour}"` : ""}${anchor && anchor !== "start" ? ` text-anchor="${anchor}"` : ""}${turn}>${xmlText(text)}</text>`;
    }
    case "image":
      return `<image width="1" height="1" preserveAspectRatio="none" transform="matrix(${shape.matrix.map((one) => String(Number(one.toPrecision(12)))).join(" ")})" xlink:href="data:image/${shape.format};base64,${encodeBase64(shape.bytes)}"/>`;
    case "group": {
      const items = shape.items.map((item) => shapeSvg(item, clips)).join("\n");
      const id = shape.clip ? `clip-${clips.length + 1}` : undefined;
      if (shape.clip) {
        const { left, top, right, bottom } = shape.clip;
        clips.push(
          `<clipPath id="${id}"><rect x="${num(left)}" y="${num(top)}" width="${num(right - left)}" height="${num(bottom - top)}"/></clipPath>`,
        );
      }
      return `<g class="${xmlAttribute(shape.name)}"${id ? ` clip-path="url(#${id})"` : ""}>\n${items}\n</g>`;
    }
  }
}

function pathData({ points, closed }: LineMm): string {
  let data = "";
  for (let i = 0; i < points.length; i += 2) {
    data += `${i === 0 ? "M" : "L"}${num(points[i]!)} ${num(points[i + 1]!)}`;
  }
  return closed ? `${data}Z` : data;
}

function fillSvg(fill: FillMm | undefined): string {
  if (!fill) return ' fill="none"';
  const opacity = fill.opacity === undefined ? "" : ` fill-opacity="${num(fill.opacity)}"`;
  return ` fill="${fill.colour}" fill-rule="evenodd"${opacity}`;
}

function strokeSvg(stroke: StrokeMm | undefined): string {
  if (!stroke) return "";
  const { colour, widthMm, dashMm, round } = stroke;
  const dash = dashMm ? ` stroke-dasharray="${dashMm.map(num).join(" ")}"` : "";
  const ends = round ? ' stroke-linecap="round" stroke-linejoin="round"' : "";
  return ` stroke="${colour}" stroke-width="${num(widthMm)}"${dash}${ends}`;
}
