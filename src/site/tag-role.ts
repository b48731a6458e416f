import type { EdgeKind, Role } from "../model/roles.ts";
import { type Fields, textOf } from "./attributes.ts";
import {
  GRASS_SPORTS,
  GRASS_SURFACES,
  LOOSE_SURFACES,
  type Shape,
  TAG_KEYS,
  TAG_RULES,
} from "./osm-tags.ts";

/** What tags say of one shape of a feature. */
export interface TagMeaning {
  readonly role: Role;
  /** The tag that decided, e.g. `highway=footway`. */
  readonly tag: string;
  readonly edgeKind?: EdgeKind;
  readonly widthM?: number;
  readonly diameterM?: number;
  readonly umbrella?: boolean;
}

/** Whether a feature is described by OpenStreetMap tags. */
export function isTagged(fields: Fields): boolean {
  for (const key of TAG_KEYS) if (fields.has(key)) return true;
  return false;
}

/**
 * What the tags of a feature mean for its areas, lines or points (rules in osm-tags.ts); `ignore`
 * for what lies under or over the ground; undefined where no rule fits.
 */
export function roleOfTags(fields: Fields, shape: Shape): TagMeaning | undefined {
  const elsewhere = offTheGround(fields);
  if (elsewhere) return { role: "ignore", tag: elsewhere };
  const surface = textOf(fields, "surface") ?? "";
  for (const rule of TAG_RULES) {
    if (rule.shape !== shape) continue;
    const value = textOf(fields, rule.key);
    if (value === undefined || value === "no") continue;
    if (rule.values !== "*" && !rule.values.split(" ").includes(value)) continue;
    const { role, edgeKind, widthM, diameterM, umbrella } = rule;
    return {
      role: roleOnSurface(role, rule.key, surface, fields),
      tag: `${rule.key}=${value}`,
      ...(edgeKind && { edgeKind }),
      ...(widthM !== undefined && { widthM }),
      ...(diameterM !== undefined && { diameterM }),
      ...(umbrella && { umbrella }),
    };
  }
  if (shape === "area" && GRASS_SURFACES.test(surface)) {
    return { role: "lawn", tag: `surface=${surface}` };
  }
  return undefined;
}

/** Tunnels, indoor ways and anything on a level below the ground. */
function offTheGround(fields: Fields): string | undefined {
  for (const key of ["tunnel", "indoor", "covered", "bridge"]) {
    const value = textOf(fields, key);
    if (value !== undefined && value !== "no" && fields.has("highway")) return `${key}=${value}`;
  }
  const tunnel = textOf(fields, "tunnel");
  if (tunnel !== undefined && tunnel !== "no") return `tunnel=${tunnel}`;
  const location = textOf(fields, "location");
  if (location === "underground" || location === "indoor") return `location=${location}`;
  for (const key of ["layer", "level"]) {
    const value = textOf(fields, key);
    if (value !== undefined && Number(value) < 0) return `${key}=${value}`;
  }
  return undefined;
}

/** The same tag over another surface is another thing to a mower. */
function roleOnSurface(role: Role, key: string, surface: string, fields: Fields): Role {
  if (key === "leisure" && textOf(fields, "leisure") === "pitch") {
    if (surface !== "") return GRASS_SURFACES.test(surface) ? "lawn" : "paving";
    return GRASS_SPORTS.test(textOf(fields, "sport") ?? "") ? "lawn" : "paving";
  }
  if (role === "lawn" && /(artificial_turf|asphalt|paved|concrete|paving_stones)/.test(surface)) {
    return "paving";
  }
  if (role === "paving") {
    if (GRASS_SURFACES.test(surface)) return "lawn";
    if (LOOSE_SURFACES.test(surface)) return "gravel";
  }
  return role;
}
