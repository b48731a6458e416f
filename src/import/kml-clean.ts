import { DOMImplementation, type Document, type Element, type Node } from "@xmldom/xmldom";

import { isUnsafeName } from "./names.ts";

const ELEMENT = 1;
const TEXT = 3;
const CDATA = 4;

/** Containers of geometry: their members are taken one by one. */
const WRAPPERS = new Set(["MultiGeometry", "MultiTrack"]);
/** Added apart, from the Placemark's own style and the shared one. */
const STYLES = new Set(["Style", "StyleMap"]);

export function childElements(parent: Element): Element[] {
  const children: Element[] = [];
  for (let node = parent.firstChild; node; node = node.nextSibling) {
    if (node.nodeType === ELEMENT) children.push(node as Element);
  }
  return children;
}

/** Name without prefix, for elements of KML and its extensions. */
export function localName(element: Element): string {
  return element.localName ?? element.nodeName.replace(/^.*:/, "");
}

/** Text of the first child element of that name, trimmed; empty where there is none. */
export function childText(parent: Element, name: string): string {
  const child = childElements(parent).find((element) => localName(element) === name);
  return child?.textContent?.trim() ?? "";
}

/** The name to give a copied element: bare for KML's own, with its prefix for foreign ones. */
function plainName(element: Element, kmlNamespace: string | null): string {
  const local = localName(element);
  if (local === "coord") return "gx:coord";
  if (local === "Track" || local === "MultiTrack") return local;
  const own = !element.prefix || element.namespaceURI === kmlNamespace || element.prefix === "kml";
  return own ? local : element.nodeName;
}

/** `1, 2, 0` as `1,2,0`: white space parts tuples, so none may stand beside a comma. */
function tidyCoordinates(text: string): string {
  return text.replace(/\s*,\s*/g, ",").trim();
}

/** Outer boundary first: the converter takes the first ring as the shell. */
function orderedChildren(element: Element, name: string): Node[] {
  const nodes: Node[] = [];
  for (let node = element.firstChild; node; node = node.nextSibling) nodes.push(node);
  if (name !== "Polygon") return nodes;
  const isOuter = (node: Node) =>
    node.nodeType === ELEMENT && localName(node as Element) === "outerBoundaryIs";
  return [...nodes.filter(isOuter), ...nodes.filter((node) => !isOuter(node))];
}

function copyInto(
  target: Element,
  source: Element,
  document: Document,
  kmlNamespace: string | null,
  inPolygon: boolean,
): void {
  for (const node of orderedChildren(source, localName(source))) {
    if (node.nodeType === TEXT || node.nodeType === CDATA) {
      target.appendChild(document.createTextNode(node.nodeValue ?? ""));
      continue;
    }
    if (node.nodeType !== ELEMENT) continue;
    const element = node as Element;
    let name = plainName(element, kmlNamespace);
    if (STYLES.has(name) || isUnsafeName(element.getAttribute("name") ?? "")) continue;
    if (WRAPPERS.has(name)) {
      copyInto(target, element, document, kmlNamespace, inPolygon);
      continue;
    }
    // A ring on its own is a closed line.
    if (name === "LinearRing" && !inPolygon) name = "LineString";
    const copy = document.createElement(name);
    for (const attribute of ["id", "name"]) {
      const value = element.getAttribute(attribute);
      if (value) copy.setAttribute(attribute, value);
    }
    if (name === "coordinates" || name === "gx:coord") {
      const text = element.textContent ?? "";
      const tidy =
        name === "coordinates" ? tidyCoordinates(text) : text.trim().replace(/\s+/g, " ");
      copy.appendChild(document.createTextNode(tidy));
    } else {
      copyInto(copy, element, document, kmlNamespace, inPolygon || name === "Polygon");
    }
    target.appendChild(copy);
  }
}

/**
 * A copy of one Placemark that the converter reads rightly: no prefixes, lines and fills of its
 * styles in place, geometry containers dissolved, outer boundaries first, coordinates without stray
 * white space. Returned as an element that holds the Placemark.
 *
 * @param styles the Style elements that count for it, strongest first
 */
export function cleanPlacemark(placemark: Element, styles: readonly Element[] = []): Element {
  const document = new DOMImplementation().createDocument(null, "kml", null);
  const holder = document.documentElement as Element;
  const copy = document.createElement("Placemark");
  const id = placemark.getAttribute("id");
  if (id) copy.setAttribute("id", id);
  copyInto(copy, placemark, document, placemark.namespaceURI ?? null, false);
  for (const style of styles) {
    for (const part of childElements(style)) {
      const name = localName(part);
      if (name !== "LineStyle" && name !== "PolyStyle") continue;
      const target = document.createElement(name);
      copyInto(target, part, document, part.namespaceURI ?? null, false);
      copy.appendChild(target);
    }
  }
  holder.appendChild(copy);
  return holder;
}
