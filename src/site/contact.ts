import type { Profile } from "../model/profile.ts";
import type { EdgeKind, Role } from "../model/roles.ts";
import type { Thing } from "../model/site.ts";
import type { Attributes } from "./attributes.ts";

/** What decides how the machine meets a thing. */
export interface ContactInput {
  readonly role: Role;
  readonly attributes: Attributes;
  /** Of a tree; undefined where it is not known. */
  readonly trunkM?: number;
}

/**
 * Whether a thing needs wire round it (docs/roles.md, the table of contacts).
 *
 * Paving with `loop = no` may be run over, so it is flush; anything else with `loop = no` is met
 * and turned away from.
 */
export function contactOf(
  { role, attributes, trunkM }: ContactInput,
  limits: Profile["obstacles"],
): Thing["contact"] {
  const { loop, edgeKind, heightM, soilRadiusM } = attributes;
  if (loop === true) return "loop";
  if (loop === false) return role === "paving" ? "flush" : "firm";
  switch (role) {
    case "building":
      return "firm";
    case "firm":
      return heightM !== undefined && heightM < limits.lowHeightM ? "loop" : "firm";
    case "tree": {
      if (soilRadiusM !== undefined && soilRadiusM > 0) return "loop";
      return trunkM !== undefined && trunkM < limits.youngTrunkM ? "loop" : "firm";
    }
    case "paving":
      return edgeKind === "flush" ? "flush" : "loop";
    default:
      return "loop";
  }
}

/**
 * What the lawn's edge along a thing is: its attribute, else what its sort suggests, else its role.
 * A loop asked for or refused makes no wall lower or higher.
 */
export function edgeKindAlong(
  { role, attributes }: ContactInput,
  contact: Thing["contact"],
  usual: EdgeKind | undefined,
  { lowHeightM }: Profile["obstacles"],
): EdgeKind {
  if (attributes.edgeKind) return attributes.edgeKind;
  if (usual) return usual;
  if (role === "building") return "wall";
  if (role === "firm") {
    const isLow = attributes.heightM !== undefined && attributes.heightM < lowHeightM;
    return isLow ? "open" : "wall";
  }
  if (role === "water") return "water";
  return contact === "flush" ? "flush" : "open";
}
