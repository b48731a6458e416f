import type { RawLayer } from "../model/features.ts";
import type { Finding } from "../model/finding.ts";

/** Attribute names that JavaScript takes for something else than a name. */
const UNSAFE = "__proto__";

/** True for an attribute name that must never become a member of an object. */
export function isUnsafeName(name: string): boolean {
  return name === UNSAFE;
}

/** What to say about attributes that are left out for their name. */
export function unsafeNameFinding(file: string, layer: string): Finding {
  return {
    code: "ATTRIBUTE_NAME_UNSAFE",
    severity: "warning",
    file,
    layer,
    message: `an attribute is named ${UNSAFE}, a name that programs misread and that attacks use; it is left out`,
    remedy: "Give that attribute another name if it matters.",
  };
}

/**
 * The layer without attributes of unsafe names. JSON can hold a member `__proto__`, and copying such
 * a member (`Object.assign`) would put words into the mouth of every later step.
 */
export function withoutUnsafeNames(layer: RawLayer): { layer: RawLayer; finding?: Finding } {
  if (!layer.fields.includes(UNSAFE)) return { layer };
  const features = layer.features.map((feature) => {
    if (!Object.hasOwn(feature.properties, UNSAFE)) return feature;
    const kept = Object.entries(feature.properties).filter(([name]) => !isUnsafeName(name));
    return { ...feature, properties: Object.fromEntries(kept) };
  });
  const fields = layer.fields.filter((name) => !isUnsafeName(name));
  return {
    layer: { ...layer, features, fields },
    finding: unsafeNameFinding(layer.file, layer.layer),
  };
}
