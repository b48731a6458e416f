import type { SourceRef } from "../model/finding.ts";
import type { Assigned } from "./assign-role.ts";
import type { Fields } from "./attributes.ts";
import type { Shape } from "./osm-tags.ts";
import type { Parts } from "./parts.ts";

/** The areas, lines or points of one feature, with its role, not yet repaired. */
export interface RawShape {
  readonly shape: Shape;
  readonly source: SourceRef;
  /** Other ways to call the feature: its id, `#number`. */
  readonly ids: readonly string[];
  readonly fields: Fields;
  readonly assigned: Assigned;
  /** Attributes that the site file gives to this one feature. */
  readonly said?: Readonly<Record<string, unknown>>;
  /** Its areas were drawn as lines that end where they begin. */
  readonly fromLines?: boolean;
  readonly polygons: Parts["polygons"];
  readonly lines: Parts["lines"];
  readonly points: Parts["points"];
}
