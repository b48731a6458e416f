import type { GridLayer } from "../model/features.ts";
import type { SourceRef } from "../model/finding.ts";
import { type EdgeKind, ROLES, type Role } from "../model/roles.ts";
import { edgeKindOf, type Fields, saysRunGround, textOf } from "./attributes.ts";
import type { Note } from "./notes.ts";
import type { Shape } from "./osm-tags.ts";
import { roleOfName } from "./role-of-name.ts";
import type { WordMeaning } from "./role-words.ts";
import { isTagged, roleOfTags, type TagMeaning } from "./tag-role.ts";

/**
 * Which evidence gave a role, strongest first. `ground`: it has none, and only tells what runs of wire
 * cost there. `none`: the shape must decide.
 */
export type Evidence =
  | "rule"
  | "attribute"
  | "layer"
  | "tags"
  | "ground"
  | "kind"
  | "name"
  | "none";

export interface Assigned {
  readonly role: Role | undefined;
  readonly by: Evidence;
  /** The word, tag or rule that decided. */
  readonly because: string;
  readonly edgeKind?: EdgeKind;
  /** Width that a line of this sort usually has, metres. */
  readonly widthM?: number;
  /** Diameter that a point of this sort usually has, metres. */
  readonly diameterM?: number;
  readonly umbrella?: boolean;
  /** OpenStreetMap tags are there but say nothing about the ground. */
  readonly taggedOtherwise?: boolean;
}

/** Attributes that other programs use for a sort of thing, read only when nothing else speaks. */
const KIND_FIELDS = ["kind", "type", "class", "category", "feature", "surface_type"];

/**
 * The role of one shape of a feature by rule, attribute, layer, tags, kind or name, in that order.
 *
 * A rule or attribute says no more than the role; what a word or tag for the same role adds (that a
 * firm thing is a hedge) is kept, and the attribute `edge` beats either.
 */
export function assignRole(
  layer: GridLayer,
  rule: { readonly role?: Role; readonly because: string },
  fields: Fields,
  shape: Shape,
  source: SourceRef,
  note: Note,
): Assigned {
  const found = strongest(layer, rule, fields, shape, source, note);
  const more =
    found.by === "rule" || found.by === "attribute"
      ? [
          roleOfName(textOf(fields, "role") ?? ""),
          roleOfName(layer.layer),
          roleOfTags(fields, shape),
          roleOfName(textOf(fields, "name") ?? ""),
        ]
          .filter((meaning) => meaning?.role === found.role)
          .map((meaning) => sortOf(meaning!))
          .find((sort) => Object.keys(sort).length > 0)
      : undefined;
  const edgeKind = edgeKindOf(fields.get("edge") ?? "");
  return { ...more, ...found, ...(edgeKind && { edgeKind }) };
}

function strongest(
  layer: GridLayer,
  rule: { readonly role?: Role; readonly because: string },
  fields: Fields,
  shape: Shape,
  source: SourceRef,
  note: Note,
): Assigned {
  if (rule.role) return { role: rule.role, by: "rule", because: rule.because };
  const stated = textOf(fields, "role");
  if (stated !== undefined) {
    const role = roleOf(stated);
    if (role) return { role, by: "attribute", because: `role=${stated}` };
    note({
      code: "ROLE_UNKNOWN",
      severity: "warning",
      message: `Attribute role is "${stated}", which is no role; the role was taken from elsewhere.`,
      remedy: `Write one of ${ROLES.join(", ")} in role.`,
      ...source,
    });
  }
  const byLayer = roleOfName(layer.layer);
  if (byLayer) return { role: byLayer.role, ...sortOf(byLayer), by: "layer", because: layer.layer };
  const tags = roleOfTags(fields, shape);
  if (tags) return { ...tags, by: "tags", because: tags.tag };
  if (shape === "area" && saysRunGround(fields)) {
    return { role: undefined, by: "ground", because: "attributes of the ground for wire" };
  }
  if (isTagged(fields)) {
    return { role: undefined, by: "none", because: mainTag(fields), taggedOtherwise: true };
  }
  for (const key of KIND_FIELDS) {
    const meaning = roleOfName(textOf(fields, key) ?? "");
    if (meaning)
      return {
        role: meaning.role,
        ...sortOf(meaning),
        by: "kind",
        because: `${key}=${textOf(fields, key)}`,
      };
  }
  const name = textOf(fields, "name");
  // `Untitled path` is what drawing programs call a line that nobody has named.
  const isGiven = name !== undefined && !/^(untitled|unnamed|new)\b/i.test(name);
  const byName = isGiven ? roleOfName(name) : undefined;
  if (byName) return { role: byName.role, ...sortOf(byName), by: "name", because: name! };
  return { role: undefined, by: "none", because: "" };
}

/** A role by its own name, or by a word of the table: `Keep out`, `grass`, `beds`. */
export function roleOf(text: string): Role | undefined {
  const plain = text
    .trim()
    .toLowerCase()
    .replace(/[\s_]+/g, "-");
  return ROLES.find((role) => role === plain) ?? roleOfName(text)?.role;
}

function sortOf(meaning: Omit<Partial<WordMeaning & TagMeaning>, "role">): Partial<Assigned> {
  const widthM = meaning.thicknessM ?? meaning.widthM;
  return {
    ...(meaning.edgeKind && { edgeKind: meaning.edgeKind }),
    ...(widthM !== undefined && { widthM }),
    ...(meaning.diameterM !== undefined && { diameterM: meaning.diameterM }),
  };
}

/** The tag that people would name the feature by, for a finding. */
function mainTag(fields: Fields): string {
  const keys = (
    "leisure landuse natural amenity man_made highway barrier railway place tourism historic shop " +
    "office golf power boundary route craft emergency"
  ).split(" ");
  for (const key of keys) {
    const value = textOf(fields, key);
    if (value !== undefined) return `${key}=${value}`;
  }
  return "no tag of the ground";
}
