import type { Document, Element } from "@xmldom/xmldom";
import { childElements, childText, localName } from "./kml-clean.ts";

/** How a chain of style maps that point to one another is cut. */
const HOPS_MAX = 8;

/** The shared styles and style maps of one document, by id. */
export class StyleIndex {
  readonly #shared = new Map<string, Element>();

  constructor(document: Document) {
    for (const name of ["Style", "StyleMap"]) {
      for (const element of document.getElementsByTagNameNS("*", name)) {
        const id = element.getAttribute("id");
        if (id && !this.#shared.has(id)) this.#shared.set(id, element);
      }
    }
  }

  /** The styles of a Placemark, strongest first: its own, then the one that its styleUrl names. */
  stylesOf(placemark: Element): Element[] {
    const own = childElements(placemark).filter((child) => STYLE_NAMES.has(localName(child)));
    const shared = this.#named(childText(placemark, "styleUrl"));
    return [...own, ...(shared === undefined ? [] : [shared])]
      .map((element) => this.#resolved(element, HOPS_MAX))
      .filter((style) => style !== undefined);
  }

  #named(url: string): Element | undefined {
    return /^#?[^#]+$/.test(url) ? this.#shared.get(url.replace(/^#/, "")) : undefined;
  }

  /** A style map stands for the style that is shown when nothing is pointed at. */
  #resolved(element: Element | undefined, hops: number): Element | undefined {
    if (element === undefined || localName(element) === "Style" || hops === 0) return element;
    const normal = childElements(element).find((pair) => childText(pair, "key") === "normal");
    if (normal === undefined) return undefined;
    const inline = childElements(normal).find((child) => STYLE_NAMES.has(localName(child)));
    return this.#resolved(inline ?? this.#named(childText(normal, "styleUrl")), hops - 1);
  }
}

const STYLE_NAMES = new Set(["Style", "StyleMap"]);

/** Address of the icon that the styles show; undefined where they show none. */
export function iconOf(styles: readonly Element[]): string | undefined {
  for (const style of styles) {
    const iconStyle = childElements(style).find((child) => localName(child) === "IconStyle");
    const icon = iconStyle && childElements(iconStyle).find((child) => localName(child) === "Icon");
    const href = icon && childText(icon, "href");
    if (href) return href;
  }
  return undefined;
}
