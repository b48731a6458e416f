/** Styles of a layer as Styled Layer Descriptor 1.0 (OGC 02-070), without hatches, which it lacks. */
import { xmlText } from "../../escape/xml.ts";
import type { ShapeOfKind } from "../../model/plan-fields.ts";
import type { FeatureStyle, Marker, Stroke } from "../style/plan-style.ts";
import { stylesOfKind } from "./kind-styles.ts";

/** The standard takes a pixel for 0.28 mm. */
const PIXEL_MM = 0.28;

const px = (mm: number) => String(Math.round((100 * mm) / PIXEL_MM) / 100);
const parameter = (name: string, value: string | number) =>
  `<CssParameter name="${name}">${value}</CssParameter>`;

/** @returns undefined for a kind that has no style */
export function sldOf(kind: string, shape: ShapeOfKind, table: string): string | undefined {
  const { attribute, styles } = stylesOfKind(kind);
  if (styles.length === 0) return undefined;
  const rules = styles.map(({ name, style, value }) =>
    [
      `<Rule><Name>${name}</Name><Title>${xmlText(style.label)}</Title>`,
      attribute === undefined
        ? ""
        : `<ogc:Filter><ogc:PropertyIsEqualTo><ogc:PropertyName>${attribute}</ogc:PropertyName><ogc:Literal>${value}</ogc:Literal></ogc:PropertyIsEqualTo></ogc:Filter>`,
      symbolizer(style, shape),
      "</Rule>",
    ].join(""),
  );
  return [
    '<?xml version="1.0" encoding="UTF-8"?>',
    '<StyledLayerDescriptor version="1.0.0" xmlns="http://www.opengis.net/sld" xmlns:ogc="http://www.opengis.net/ogc">',
    `<NamedLayer><Name>${table}</Name><UserStyle><FeatureTypeStyle>`,
    ...rules,
    "</FeatureTypeStyle></UserStyle></NamedLayer>",
    "</StyledLayerDescriptor>",
    "",
  ].join("\n");
}

function symbolizer({ stroke, fill, marker }: FeatureStyle, shape: ShapeOfKind): string {
  if (shape === "line") return `<LineSymbolizer>${strokeText(stroke)}</LineSymbolizer>`;
  if (shape === "point") return marker ? markerText(marker) : "";
  const filled = fill
    ? `<Fill>${parameter("fill", fill.colour)}${parameter("fill-opacity", fill.opacity)}</Fill>`
    : "";
  return `<PolygonSymbolizer>${filled}${strokeText(stroke)}</PolygonSymbolizer>`;
}

function strokeText(stroke: Stroke | undefined): string {
  if (stroke === undefined) return "";
  const dash = stroke.dashMm && parameter("stroke-dasharray", stroke.dashMm.map(px).join(" "));
  return `<Stroke>${parameter("stroke", stroke.colour)}${parameter("stroke-width", px(stroke.widthMm))}${dash ?? ""}</Stroke>`;
}

/** There is no diamond among the well-known marks: it is a square on its corner. */
function markerText({ shape, sizeMm, fill, stroke }: Marker): string {
  const mark = shape === "diamond" ? "square" : shape;
  const turn = shape === "diamond" ? "<Rotation>45</Rotation>" : "";
  return `<PointSymbolizer><Graphic><Mark><WellKnownName>${mark}</WellKnownName><Fill>${parameter("fill", fill)}</Fill>${strokeText(stroke)}</Mark><Size>${px(sizeMm)}</Size>${turn}</Graphic></PointSymbolizer>`;
}
