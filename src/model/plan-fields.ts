/**
 * The kinds of feature that a plan is written as, and their attributes, in the order in which they are
 * written (docs/formats/plan-geojson.md). Formats with typed or short column names follow this table,
 * and so does whoever reads a plan back from them.
 */

/** `text`, a number, a truth value, or a value of several parts, which tables hold as JSON text. */
export type FieldType = "text" | "number" | "flag" | "data";

export type ShapeOfKind = "point" | "line" | "area";

export interface PlanField {
  readonly name: string;
  readonly type: FieldType;
  /** True where every feature of the kind has it; one without a value then has `null`. */
  readonly always?: true;
  /** The attribute along with which it stands, then with `null` where it has no value. */
  readonly with?: string;
}

export interface PlanKind {
  readonly shape: ShapeOfKind;
  /** Besides `kind`. */
  readonly fields: readonly PlanField[];
}

const text = (name: string): PlanField => ({ name, type: "text", always: true });
const number = (name: string): PlanField => ({ name, type: "number", always: true });
const flag = (name: string): PlanField => ({ name, type: "flag", always: true });
const data = (name: string): PlanField => ({ name, type: "data", always: true });
const perhaps = ({ name, type }: PlanField): PlanField => ({ name, type });
const along = (other: string, { name, type }: PlanField): PlanField => ({
  name,
  type,
  with: other,
});

const loop = text("loop");
const joint = perhaps(text("joint"));
const groundLength = perhaps(number("ground_length_m"));
const pegGround = [
  along("ground_chainage_m", number("height_m")),
  perhaps(number("ground_chainage_m")),
];

/** Figures of a station's place (docs/station.md), which stand all or none. */
const place = [
  number("score"),
  number("clear_ahead_m"),
  number("slope_percent"),
  number("hollow_m"),
  number("sun_h"),
  number("hot_shade"),
  number("lead_m"),
  flag("lead_across_lawn"),
  number("corner_m"),
  number("passage_m"),
  number("island_m"),
  number("water_m"),
  number("public_m"),
];

export const PLAN_KINDS: Readonly<Record<string, PlanKind>> = {
  "boundary-wire": {
    shape: "line",
    fields: [
      loop,
      number("length_m"),
      groundLength,
      text("direction"),
      perhaps(number("numbered_to")),
    ],
  },
  "exclusion-loop": {
    shape: "area",
    fields: [loop, text("name"), text("role"), number("length_m"), groundLength, data("things")],
  },
  "paired-run": {
    shape: "line",
    fields: [loop, text("from"), text("to"), number("length_m"), groundLength],
  },
  "guide-wire": {
    shape: "line",
    fields: [loop, number("length_m"), groundLength, number("clearance_m"), number("pegs")],
  },
  "guide-peg": {
    shape: "point",
    fields: [loop, text("number"), number("chainage_m"), ...pegGround, text("on"), joint],
  },
  peg: {
    shape: "point",
    fields: [
      loop,
      text("number"),
      number("chainage_m"),
      perhaps(number("second_chainage_m")),
      ...pegGround,
      perhaps(number("second_ground_chainage_m")),
      text("on"),
    ],
  },
  station: {
    shape: "point",
    fields: [
      loop,
      number("bearing_deg"),
      flag("given"),
      number("straight_m"),
      ...place.map((field) => along("score", field)),
    ],
  },
  "station-option": {
    shape: "point",
    fields: [
      loop,
      number("rank"),
      number("bearing_deg"),
      number("straight_m"),
      ...place,
      data("reasons"),
    ],
  },
  passage: {
    shape: "line",
    fields: [
      number("number"),
      number("width_m"),
      number("wire_width_m"),
      number("length_m"),
      number("bearing_deg"),
      text("verdict"),
      number("beyond_m2"),
      data("islands_beyond"),
      data("openings"),
      data("cost"),
    ],
  },
  "mown-area": { shape: "area", fields: [loop, number("area_m2"), number("part")] },
  "cut-off-area": { shape: "area", fields: [number("area_m2"), text("reason")] },
  "steep-area": { shape: "area", fields: [loop, number("area_m2"), number("slope_percent")] },
  "hand-trim": { shape: "area", fields: [number("area_m2")] },
  "edge-fall": { shape: "line", fields: [loop, number("length_m"), number("fall_percent")] },
  finding: {
    shape: "point",
    fields: [
      text("code"),
      text("severity"),
      text("message"),
      text("remedy"),
      text("file"),
      text("layer"),
      text("feature"),
      number("east_m"),
      number("north_m"),
    ],
  },
};

/** Names for tables whose columns hold ten letters (dBase); a name that fits stands for itself. */
const SHORT_NAMES: Readonly<Record<string, string>> = {
  second_chainage_m: "chain2_m",
  numbered_to: "numberd_to",
  ground_length_m: "grd_len_m",
  ground_chainage_m: "grd_chn_m",
  second_ground_chainage_m: "grd_chn2_m",
  clearance_m: "clear_m",
  bearing_deg: "bearing",
  wire_width_m: "wire_wid_m",
  islands_beyond: "isl_beyond",
  slope_percent: "slope_pct",
  fall_percent: "fall_pct",
  clear_ahead_m: "clr_ahd_m",
  lead_across_lawn: "lead_lawn",
};

/** Letters of a short name. */
export const SHORT_NAME_LENGTH = 10;

/** The short names of attributes of one table: of ours by the list, of others cut and numbered. */
export function shortNames(names: readonly string[]): Map<string, string> {
  const short = new Map<string, string>();
  const taken = new Set<string>();
  const take = (name: string, wanted: string) => {
    let fit = wanted;
    for (let n = 2; taken.has(fit.toLowerCase()); n++) {
      fit = `${wanted.slice(0, SHORT_NAME_LENGTH - String(n).length)}${n}`;
    }
    taken.add(fit.toLowerCase());
    short.set(name, fit);
  };
  const isOurs = (name: string) => Object.hasOwn(SHORT_NAMES, name) || OUR_NAMES.has(name);
  for (const name of names.filter(isOurs)) {
    take(name, Object.hasOwn(SHORT_NAMES, name) ? SHORT_NAMES[name]! : name);
  }
  for (const name of names.filter((one) => !isOurs(one))) {
    const plain = name.replace(/[^A-Za-z0-9_]/g, "_").slice(0, SHORT_NAME_LENGTH);
    take(name, plain || "field");
  }
  return short;
}

const OUR_NAMES = new Set(
  Object.values(PLAN_KINDS).flatMap(({ fields }) => fields.map((field) => field.name)),
);

/** The attribute that a short name stands for; the name itself where it stands for none. */
export function longName(name: string): string {
  const found = Object.entries(SHORT_NAMES).find(([, short]) => short === name.toLowerCase());
  return found?.[0] ?? name;
}

/** What a plan's features are known by. */
export function planKindOf(properties: Readonly<Record<string, unknown>>): PlanKind | undefined {
  const { kind } = properties;
  return typeof kind === "string" && Object.hasOwn(PLAN_KINDS, kind) ? PLAN_KINDS[kind] : undefined;
}
