import type { Document, Element } from "@xmldom/xmldom";
import { childElements, childText, localName } from "./kml-clean.ts";
import { SchemaIndex } from "./kml-schema.ts";
import { StyleIndex } from "./kml-style.ts";

/** Things in a KML file that hold no shapes of the site. */
const NOT_READ = new Set(["GroundOverlay", "ScreenOverlay", "PhotoOverlay", "Tour", "Model"]);

/** Placemarks of one folder, in file order. */
export interface FolderOfPlacemarks {
  readonly path: string;
  readonly placemarks: Element[];
}

/** What one KML document holds. */
export interface KmlContent {
  readonly folders: readonly FolderOfPlacemarks[];
  /** Elements without shapes of the site, by name. */
  readonly skipped: ReadonlyMap<string, number>;
  /** What its network links point to, in file order; empty text where one names nothing. */
  readonly links: readonly string[];
  readonly styles: StyleIndex;
  readonly schemas: SchemaIndex;
}

class Walk {
  readonly folders: FolderOfPlacemarks[] = [];
  readonly skipped = new Map<string, number>();
  readonly links: string[] = [];
  readonly #stem: string;
  readonly #schemas: SchemaIndex;

  constructor(stem: string, schemas: SchemaIndex) {
    this.#stem = stem;
    this.#schemas = schemas;
  }

  isPlacemark(element: Element): boolean {
    return this.#schemas.placemarkNames.has(localName(element));
  }

  /** Collects Placemarks by the folder that holds them. */
  collect(container: Element, path: readonly string[], children = childElements(container)): void {
    const here: FolderOfPlacemarks = { path: path.join("/") || this.#stem, placemarks: [] };
    const place = this.folders.length;
    let unnamed = 0;
    for (const child of children) {
      const name = localName(child);
      if (this.isPlacemark(child)) {
        here.placemarks.push(child);
        if (childElements(child).some((part) => localName(part) === "Model")) this.skip("Model");
      } else if (name === "Folder" || name === "Document") {
        this.collect(child, [...path, childText(child, "name") || `folder ${++unnamed}`]);
      } else if (name === "NetworkLink") {
        this.links.push(linkOf(child));
      } else if (NOT_READ.has(name)) {
        this.skip(name);
      }
    }
    if (here.placemarks.length > 0) this.folders.splice(place, 0, here);
  }

  skip(name: string): void {
    this.skipped.set(name, (this.skipped.get(name) ?? 0) + 1);
  }
}

/** Address in a NetworkLink: `Link`, or `Url` as before KML 2.1. */
function linkOf(networkLink: Element): string {
  const link = childElements(networkLink).find((child) => /^(Link|Url)$/.test(localName(child)));
  return link === undefined ? "" : childText(link, "href");
}

/**
 * Placemarks by folder, links, styles and schemas of a document.
 *
 * The outermost Document or Folder gives no folder name of its own, unless nothing else does.
 *
 * @param stem layer name where nothing in the file gives one
 * @param prefix folder names to put before every other, for the further files of an archive
 */
export function kmlContent(
  document: Document,
  stem: string,
  prefix: readonly string[] = [],
): KmlContent {
  const root = document.documentElement as Element;
  const schemas = new SchemaIndex(document);
  const tops = childElements(root).filter((child) => localName(child) === "Document");
  const container = localName(root) === "kml" && tops.length === 1 ? tops[0]! : root;
  const title = localName(container) === "kml" ? "" : childText(container, "name");
  const walk = new Walk(prefix.length > 0 ? stem : title || stem, schemas);
  if (walk.isPlacemark(root)) walk.folders.push({ path: stem, placemarks: [root] });
  else walk.collect(container, prefix);
  if (container !== root) {
    // Placemarks beside the one Document break the schema, but they are shapes all the same.
    const beside = childElements(root).filter((child) => child !== container);
    walk.collect(root, prefix, beside);
  }
  const { folders, skipped, links } = walk;
  return { folders, skipped, links, styles: new StyleIndex(document), schemas };
}
