/** What a feature of the input is, in the planner's terms. See docs/roles.md. */
export const ROLES = [
  "lawn",
  "bed",
  "water",
  "gravel",
  "paving",
  "building",
  "firm",
  "tree",
  "keep-out",
  "edge",
  "station",
  "outlet",
  "control",
  "ignore",
] as const;
export type Role = (typeof ROLES)[number];

/** What a lawn edge is made of; each kind has its set-in in the machine profile. */
export const EDGE_KINDS = [
  "open",
  "wall",
  "fence",
  "hedge",
  "kerb",
  "flush",
  "water",
  "drop",
] as const;
export type EdgeKind = (typeof EDGE_KINDS)[number];
