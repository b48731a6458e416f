import type { Finding } from "../model/finding.ts";
import type { FindingList } from "./reader.ts";

/** Collects features of geometry types that GeoJSON cannot hold, for one finding a type. */
export class UnreadTypes {
  readonly #kinds = new Map<string, { first: number; count: number }>();

  add(kind: string, number: number): void {
    const known = this.#kinds.get(kind);
    if (known === undefined) this.#kinds.set(kind, { first: number, count: 1 });
    else known.count++;
  }

  report(findings: FindingList, layer: string): void {
    for (const [kind, { first, count }] of this.#kinds) {
      const which = count === 1 ? `feature ${first} is` : `${count} features are`;
      findings.add({
        code: "GEOMETRY_TYPE_NOT_READ",
        severity: "error",
        layer,
        feature: `#${first}`,
        message: `${which} left out${count === 1 ? "" : ` (the first is feature ${first})`}: ${kind} is neither point, line nor polygon`,
        remedy: "Convert curves and surfaces to lines and polygons, and export the layer again.",
      });
    }
  }
}

/** What to say about attributes that hold pictures or other binary data. */
export function binaryFinding(layer: string, names: ReadonlySet<string>): Omit<Finding, "file"> {
  return {
    code: "BINARY_FIELD_NOT_READ",
    severity: "info",
    layer,
    message: `attributes that hold binary data (pictures and the like) are not read: ${[...names].join(", ")}`,
    remedy: "Nothing to do, unless one of them says what a feature is: store that as text.",
  };
}
