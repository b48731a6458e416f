import type { Document, Element } from "@xmldom/xmldom";
import { childElements, localName } from "./kml-clean.ts";

/** Types of SimpleField that are numbers (KML 2.3, 12-007r2, section 9.9). */
const NUMBERS = new Set(["int", "uint", "short", "ushort", "float", "double"]);

/** The Schema elements of one document: which fields of SchemaData are numbers or truth values. */
export class SchemaIndex {
  readonly #types = new Map<string, Map<string, string>>();
  /** Names that older files write in place of `Placemark` (KML 2.0: a Schema with that parent). */
  readonly placemarkNames = new Set(["Placemark"]);

  constructor(document: Document) {
    for (const schema of document.getElementsByTagNameNS("*", "Schema")) {
      const fields = new Map<string, string>();
      for (const field of childElements(schema)) {
        const name = field.getAttribute("name");
        const type = field.getAttribute("type");
        if (localName(field) === "SimpleField" && name && type) fields.set(name, type);
      }
      const [id, name] = [schema.getAttribute("id"), schema.getAttribute("name")];
      if (name) this.#types.set(name, fields);
      if (id) this.#types.set(id, fields);
      if (name && schema.getAttribute("parent") === "Placemark") this.placemarkNames.add(name);
    }
  }

  /** The properties with SchemaData's numbers and truth values as such; text that is none stays text. */
  typed(placemark: Element, properties: Record<string, unknown>): Record<string, unknown> {
    for (const data of placemark.getElementsByTagNameNS("*", "SchemaData")) {
      const url = data.getAttribute("schemaUrl") ?? "";
      const types = this.#types.get(url.slice(url.indexOf("#") + 1));
      for (const [name, type] of types ?? []) {
        const value = properties[name];
        if (typeof value === "string") properties[name] = typedValue(value, type);
      }
    }
    return properties;
  }
}

function typedValue(text: string, type: string): unknown {
  const trimmed = text.trim();
  if (NUMBERS.has(type)) {
    const number = Number(trimmed);
    return trimmed !== "" && Number.isFinite(number) ? number : text;
  }
  if (type === "bool" && /^(0|1|true|false)$/i.test(trimmed)) return /^(1|true)$/i.test(trimmed);
  return text;
}
