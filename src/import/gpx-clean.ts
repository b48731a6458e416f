import { DOMImplementation, type Document, type Element } from "@xmldom/xmldom";
import { childElements, localName } from "./kml-clean.ts";

/** What a GPX file holds, in the order of its schema. */
export const GPX_KINDS = ["wpt", "rte", "trk"] as const;
export type GpxKind = (typeof GPX_KINDS)[number];

/** Elements of a waypoint, route or track that hold points or further elements. */
const NESTED = new Set(["rtept", "trkseg", "trkpt", "extensions", "link"]);
/** Elements of a track or route point that the converter reads; a point's name is not its line's. */
const OF_POINT = new Set(["ele", "time"]);
const ATTRIBUTES = ["lat", "lon", "href"];

function copyElement(source: Element, document: Document): Element {
  const name = localName(source);
  const copy = document.createElement(name);
  for (const attribute of ATTRIBUTES) {
    const value = source.getAttribute(attribute);
    if (value !== null) copy.setAttribute(attribute, value.trim());
  }
  if (NESTED.has(name)) {
    const isPoint = name === "rtept" || name === "trkpt";
    for (const child of childElements(source)) {
      if (isPoint && !OF_POINT.has(localName(child))) continue;
      copy.appendChild(copyElement(child, document));
    }
    if (name !== "extensions") return copy;
  }
  if (copy.firstChild === null) copy.appendChild(document.createTextNode(source.textContent ?? ""));
  return copy;
}

/**
 * A document with one waypoint, route or track, that the converter reads rightly: no prefixes, and
 * no names of points that it would take for the line's.
 */
export function singleItem(item: Element): Document {
  const document = new DOMImplementation().createDocument(null, "gpx", null);
  const copy = document.createElement(localName(item));
  for (const attribute of ATTRIBUTES) {
    const value = item.getAttribute(attribute);
    if (value !== null) copy.setAttribute(attribute, value.trim());
  }
  for (const child of childElements(item)) copy.appendChild(copyElement(child, document));
  (document.documentElement as Element).appendChild(copy);
  return document;
}
