/** What is on the site already, as shapes of the page. */
import { shownText } from "../../escape/hidden.ts";
import { lineLengthM, totalAreaM2 } from "../../geometry/rings.ts";
import type { Lawn, PlacedPoint, Site, Thing } from "../../model/site.ts";
import { areaPlace, linePlace, pointPlace } from "./flat.ts";
import type { Figure, PageShape } from "./page-model.ts";

/** Lawns, things, lines along edges and placed points; the station's shape comes from the plan. */
export function siteShapes(site: Site): PageShape[] {
  return [
    ...site.lawns.map(lawnShape),
    ...site.things.map(thingShape),
    ...(site.runGround ?? []).map(
      ({ area, name, why, factor, source }, i): PageShape => ({
        id: `run-ground:${i + 1}`,
        kind: "run-ground",
        name: shownText(name),
        place: areaPlace([area]),
        figures: [
          { label: "figure.area", value: { areaM2: totalAreaM2([area]) } },
          factor === "barred"
            ? { label: "figure.runs", value: { word: "runs.none" } }
            : { label: "figure.runCost", value: { count: factor } },
        ],
        verdict: why === "no-wire" ? "shut" : "drive",
        source,
      }),
    ),
    ...site.edgeLines.map(
      ({ kind, line, setinM, heightM, source }, i): PageShape => ({
        id: `edge:${i + 1}`,
        kind: "edge-line",
        name: "",
        place: linePlace(line),
        figures: [
          { label: "figure.edge", value: { word: `edge.${kind}` } },
          { label: "figure.length", value: { lengthM: lineLengthM(line) } },
          ...perhapsLength("figure.setin", setinM),
          ...perhapsLength("figure.height", heightM),
        ],
        edge: kind,
        source,
      }),
    ),
    ...site.outlets.map((point, i) => pointShape("outlet", point, i)),
    ...site.controls.map((point, i) => pointShape("control", point, i)),
  ];
}

function lawnShape({ name, area, setinM, edgeKind, source }: Lawn, index: number): PageShape {
  return {
    id: `lawn:${index + 1}`,
    kind: "lawn",
    name: shownText(name),
    place: areaPlace([area]),
    figures: [
      { label: "figure.area", value: { areaM2: totalAreaM2([area]) } },
      ...(edgeKind ? [{ label: "figure.edge", value: { word: `edge.${edgeKind}` } } as const] : []),
      ...perhapsLength("figure.setin", setinM),
    ],
    source,
  };
}

function thingShape(thing: Thing): PageShape {
  const { id, role, name, areas, contact, edgeKind, setinM, heightM, crownM, source } = thing;
  return {
    id: `thing:${id}`,
    kind: "thing",
    name: shownText(name),
    place: areaPlace(areas),
    figures: [
      { label: "figure.role", value: { word: `role.${role}` } },
      { label: "figure.contact", value: { word: `contact.${contact}` } },
      { label: "figure.area", value: { areaM2: totalAreaM2(areas) } },
      ...(edgeKind === "open"
        ? []
        : [{ label: "figure.edge", value: { word: `edge.${edgeKind}` } } as const]),
      ...perhapsLength("figure.setin", setinM),
      ...perhapsLength("figure.height", heightM),
      ...perhapsLength("figure.crown", crownM),
    ],
    role,
    edge: edgeKind,
    contact,
    source,
    ...(thing.isHole && { isHole: true }),
    ...(setinM !== undefined && { setinM }),
  };
}

function pointShape(kind: "outlet" | "control", point: PlacedPoint, index: number): PageShape {
  return {
    id: `${kind}:${index + 1}`,
    kind,
    name: shownText(point.name),
    place: pointPlace(point.atM),
    figures: [],
    source: point.source,
  };
}

function perhapsLength(label: Figure["label"], lengthM: number | undefined): Figure[] {
  return lengthM === undefined ? [] : [{ label, value: { lengthM } }];
}
