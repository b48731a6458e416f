/** Styles of a layer as QML, the XML in which QGIS keeps them; sizes are millimetres on paper. */
import { xmlAttribute } from "../../escape/xml.ts";
import { type ShapeOfKind, shortNames } from "../../model/plan-fields.ts";
import { channelsOf } from "../style/palette.ts";
import type { FeatureStyle, Fill, Marker, Stroke } from "../style/plan-style.ts";
import { stylesOfKind } from "./kind-styles.ts";

const GEOMETRY_TYPES: Readonly<Record<ShapeOfKind, number>> = { point: 0, line: 1, area: 2 };
const SYMBOL_TYPES: Readonly<Record<ShapeOfKind, string>> = {
  point: "marker",
  line: "line",
  area: "fill",
};

/** Kinds whose features are named on the map, by which attribute, and how large. */
const LABELS: Readonly<Record<string, { field: string; sizePt: number }>> = {
  peg: { field: "number", sizePt: 6 },
  "guide-peg": { field: "number", sizePt: 6 },
  station: { field: "loop", sizePt: 9 },
  passage: { field: "width_m", sizePt: 7 },
};

/**
 * @param names whether the layer has attributes under their own names or their short ones
 * @returns undefined for a kind that has no style
 */
export function qmlOf(
  kind: string,
  shape: ShapeOfKind,
  names: "long" | "short",
): string | undefined {
  const { attribute, styles } = stylesOfKind(kind);
  if (styles.length === 0) return undefined;
  const column = (name: string) =>
    names === "long" ? name : (shortNames([name]).get(name) ?? name);
  const symbols = styles.map(({ style }, i) => symbolOf(style, shape, String(i)));
  const renderer =
    attribute === undefined
      ? `<renderer-v2 type="singleSymbol" symbollevels="0" enableorderby="0" forceraster="0"><symbols>${symbols.join("")}</symbols></renderer-v2>`
      : [
          `<renderer-v2 type="categorizedSymbol" attr="${xmlAttribute(column(attribute))}" symbollevels="0" enableorderby="0" forceraster="0">`,
          "<categories>",
          ...styles.map(
            ({ style, value }, i) =>
              `<category symbol="${i}" value="${xmlAttribute(value ?? "")}" label="${xmlAttribute(style.label)}" render="true"/>`,
          ),
          "</categories>",
          `<symbols>${symbols.join("")}</symbols>`,
          "</renderer-v2>",
        ].join("");
  const label = Object.hasOwn(LABELS, kind) ? LABELS[kind] : undefined;
  return [
    "<!DOCTYPE qgis PUBLIC 'http://mrcc.com/qgis.dtd' 'SYSTEM'>",
    `<qgis version="3.16.0" styleCategories="Symbology${label ? "|Labeling" : ""}" labelsEnabled="${label ? 1 : 0}">`,
    renderer,
    label ? labelling(column(label.field), label.sizePt) : "",
    `<layerGeometryType>${GEOMETRY_TYPES[shape]}</layerGeometryType>`,
    "</qgis>",
    "",
  ].join("\n");
}

type Properties = Readonly<Record<string, string | number>>;

function layer(name: string, properties: Properties, inner = ""): string {
  const list = Object.entries(properties).map(
    ([key, value]) => `<prop k="${key}" v="${xmlAttribute(String(value))}"/>`,
  );
  return `<layer class="${name}" enabled="1" locked="0" pass="0">${list.join("")}${inner}</layer>`;
}

function symbol(type: string, name: string, layers: readonly string[]): string {
  return `<symbol type="${type}" name="${xmlAttribute(name)}" alpha="1" clip_to_extent="1" force_rhr="0">${layers.join("")}</symbol>`;
}

function symbolOf(style: FeatureStyle, shape: ShapeOfKind, name: string): string {
  const { stroke, fill, marker } = style;
  const layers =
    shape === "point"
      ? [markerLayer(marker)]
      : shape === "line"
        ? [lineLayer(stroke)]
        : fillLayers(fill, stroke);
  return symbol(SYMBOL_TYPES[shape], name, layers);
}

function colour(text: string, opacity = 1): string {
  return [...channelsOf(text), Math.round(255 * opacity)].join(",");
}

function lineLayer(stroke: Stroke | undefined): string {
  const { colour: of = "#000000", widthMm = 0.25, dashMm } = stroke ?? {};
  return layer("SimpleLine", {
    capstyle: dashMm ? "flat" : "round",
    joinstyle: "round",
    line_color: colour(of),
    line_style: "solid",
    line_width: widthMm,
    line_width_unit: "MM",
    use_custom_dash: dashMm ? 1 : 0,
    customdash: dashMm ? dashMm.join(";") : "5;2",
    customdash_unit: "MM",
  });
}

function markerLayer(marker: Marker | undefined): string {
  const { shape = "circle", sizeMm = 2, fill = "#ffffff", stroke } = marker ?? {};
  return layer("SimpleMarker", {
    name: shape === "cross" ? "cross_fill" : shape,
    color: colour(fill),
    outline_color: colour(stroke?.colour ?? "#000000"),
    outline_style: "solid",
    outline_width: stroke?.widthMm ?? 0.25,
    outline_width_unit: "MM",
    size: sizeMm,
    size_unit: "MM",
    scale_method: "diameter",
  });
}

function fillLayers(fill: Fill | undefined, stroke: Stroke | undefined): string[] {
  const plain = layer("SimpleFill", {
    color: colour(fill?.colour ?? "#ffffff", fill?.opacity ?? 0),
    style: fill === undefined ? "no" : "solid",
    outline_color: colour(stroke?.colour ?? "#000000"),
    outline_style: stroke === undefined ? "no" : stroke.dashMm ? "dash" : "solid",
    outline_width: stroke?.widthMm ?? 0.25,
    outline_width_unit: "MM",
  });
  const { hatch } = fill ?? {};
  if (hatch === undefined) return [plain];
  const line = { colour: hatch.colour, widthMm: hatch.widthMm };
  const hatches = hatch.anglesDeg.map((angleDeg) =>
    layer(
      "LinePatternFill",
      {
        angle: angleDeg,
        distance: hatch.spacingMm,
        distance_unit: "MM",
        color: colour(hatch.colour),
        line_width: hatch.widthMm,
        line_width_unit: "MM",
      },
      symbol("line", "@0@1", [lineLayer(line)]),
    ),
  );
  return [plain, ...hatches];
}

function labelling(field: string, sizePt: number): string {
  const style = `<text-style fieldName="${xmlAttribute(field)}" isExpression="0" fontSize="${sizePt}" fontSizeUnit="Point" textColor="0,0,0,255" textOpacity="1"><text-buffer bufferDraw="1" bufferSize="0.6" bufferSizeUnits="MM" bufferColor="255,255,255,255" bufferOpacity="1"/></text-style>`;
  return `<labeling type="simple"><settings calloutType="simple">${style}<placement placement="0" dist="0.8" distUnits="MM" priority="5"/><rendering obstacle="1" displayAll="0" drawLabels="1"/></settings></labeling>`;
}
