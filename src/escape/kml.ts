import { htmlText } from "./html.ts";
import { xmlText } from "./xml.ts";

/** A name or other plain text in KML (OGC 12-007r2), which viewers do not take for HTML. */
export const kmlText = xmlText;

/**
 * Plain text for a KML `description`, which viewers show as HTML after the XML has been read: escaped
 * for HTML first, then for XML. `$[…]`, which viewers fill in with other text, stays what it is.
 */
export function kmlDescription(text: string): string {
  return xmlText(htmlText(text).replaceAll("$[", () => "$&#91;"));
}
