import type { EdgeKind, Role } from "../model/roles.ts";

/** What a word in a layer name, a folder name, an attribute or a feature name stands for. */
export interface WordMeaning {
  readonly role: Role;
  readonly edgeKind?: EdgeKind;
  /** Set for upright things that are drawn as a line: their usual thickness, metres. */
  readonly thicknessM?: number;
}

const wall = { role: "firm", edgeKind: "wall", thicknessM: 0.3 } as const;
const fence = { role: "firm", edgeKind: "fence", thicknessM: 0.1 } as const;
const hedge = { role: "firm", edgeKind: "hedge", thicknessM: 0.6 } as const;
const kerb = { role: "firm", edgeKind: "kerb", thicknessM: 0.15 } as const;

const MEANINGS: readonly (readonly [WordMeaning, string])[] = [
  [{ role: "lawn" }, "lawn grass turf sward mown"],
  [
    { role: "bed" },
    "bed border flowerbed flower shrub shrubbery planting plant planter rockery mulch soil rose perennial bunker wood woodland bush herb",
  ],
  [{ role: "water" }, "water pond pool lake stream ditch fountain swimmingpool basin"],
  [{ role: "gravel" }, "gravel shingle pebble chipping"],
  [
    { role: "paving" },
    "paving path pathway footpath walk walkway patio terrace drive driveway pavement paved road street parking carpark deck decking step",
  ],
  [{ role: "building" }, "building house shed garage greenhouse summerhouse barn outbuilding"],
  [{ role: "tree" }, "tree"],
  [{ role: "firm" }, "firm post pole boulder rock pot bench statue column pillar bollard"],
  [wall, "wall"],
  [fence, "fence fencing railing"],
  [hedge, "hedge"],
  [kerb, "kerb curb kerbstone"],
  [
    { role: "keep-out" },
    "keepout playground play sandpit trampoline exclusion nogo vegetable compost meadow",
  ],
  [{ role: "edge" }, "edge edging"],
  [{ role: "edge", edgeKind: "drop" }, "drop"],
  [{ role: "station" }, "station chargingstation dock"],
  [{ role: "outlet" }, "outlet socket"],
  [{ role: "control" }, "control controlpoint benchmark"],
  [{ role: "ignore" }, "ignore ignored notes note"],
];

/** Every word that has a meaning, in the singular; see docs/roles.md. */
export const ROLE_WORDS: ReadonlyMap<string, WordMeaning> = new Map(
  MEANINGS.flatMap(([meaning, words]) => words.split(" ").map((word) => [word, meaning] as const)),
);

/** Words that may stand beside or behind a role's word without changing its meaning. */
export const FILLER_WORDS: ReadonlySet<string> = new Set(
  (
    "area zone layer strip feature polygon line linestring point outline shape surface geometry trunk " +
    "front back rear side left right main big small large old new upper lower middle centre " +
    "north south east west northeast northwest southeast southwest the a my all other existing " +
    "final copy edited fixed wgs utm a b c d e f i ii iii iv v"
  ).split(" "),
);

/** Words after which a name says where a thing is, not what it is: `bed by the pond`. */
export const PLACE_WORDS: ReadonlySet<string> = new Set(
  "by behind at near of in with round around under next beside along on before between to from for".split(
    " ",
  ),
);
