import type { Element } from "@xmldom/xmldom";
import { childElements, localName } from "./kml-clean.ts";

/** The name space of a plan's attributes among the extensions of a GPX file. */
export const GPX_PLAN_NAMESPACE = "tag:pegline,2026:plan";

/** Attributes of a plan that a waypoint or track bears; empty where it bears none. */
export function planAttributes(item: Element): Record<string, string> {
  const found: Record<string, string> = {};
  for (const extensions of childElements(item)) {
    if (localName(extensions) !== "extensions") continue;
    for (const attribute of childElements(extensions)) {
      if (attribute.namespaceURI !== GPX_PLAN_NAMESPACE) continue;
      const name = localName(attribute);
      if (name !== "__proto__") found[name] = attribute.textContent ?? "";
    }
  }
  return found;
}
