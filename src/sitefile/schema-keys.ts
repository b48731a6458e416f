import { siteJsonSchema } from "./site-file.ts";

interface Schema {
  readonly properties?: Readonly<Record<string, Schema>>;
  readonly items?: Schema;
  readonly anyOf?: readonly Schema[];
  readonly additionalProperties?: Schema | boolean;
}

/** All schemas that may hold at a path, unions opened. */
function schemasAt(path: readonly (string | number)[]): Schema[] {
  let found = opened(siteJsonSchema() as Schema);
  for (const step of path) {
    found = found.flatMap((schema) => {
      const rest =
        typeof schema.additionalProperties === "object" ? schema.additionalProperties : undefined;
      const next = typeof step === "number" ? schema.items : (schema.properties?.[step] ?? rest);
      return next ? opened(next) : [];
    });
  }
  return found;
}

function opened(schema: Schema): Schema[] {
  return schema.anyOf ? schema.anyOf.flatMap(opened) : [schema];
}

/** Keys that may stand at a path of a site file. */
export function keysAt(path: readonly (string | number)[]): string[] {
  return [...new Set(schemasAt(path).flatMap((schema) => Object.keys(schema.properties ?? {})))];
}

/** Where a key belongs that stands in a wrong place: `lawns.least_area_m2`; undefined if nowhere. */
export function pathOfKey(key: string): string | undefined {
  const visit = (schema: Schema, path: string): string | undefined => {
    for (const one of opened(schema)) {
      for (const [name, inner] of Object.entries(one.properties ?? {})) {
        const here = path === "" ? name : `${path}.${name}`;
        const found = name === key ? here : visit(inner, here);
        if (found) return found;
      }
      const within = one.items && visit(one.items, `${path}[]`);
      if (within) return within;
    }
    return undefined;
  };
  return visit(siteJsonSchema() as Schema, "");
}

/** `lawns.names[0]`. */
export function pathText(path: readonly (string | number)[]): string {
  return path
    .map((step, i) => (typeof step === "number" ? `[${step}]` : i === 0 ? step : `.${step}`))
    .join("");
}
