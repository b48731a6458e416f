/** What the user rules about features: roles by layer name, rules of the site file, edge layers. */
import type { FeatureRuling, GridLayer } from "../model/features.ts";
import type { Role } from "../model/roles.ts";
import type { EdgeRule, FieldTest, RoleRule, RunGroundRule } from "../model/site-rules.ts";
import type { Fields } from "./attributes.ts";
import { listed, type Note } from "./notes.ts";
import type { Shape } from "./osm-tags.ts";

export interface Rulings {
  /** Roles by layer name; they come before the rules. */
  readonly byLayer: Readonly<Record<string, Role>>;
  /** The first that fits decides. */
  readonly rules: readonly RoleRule[];
  /** Of these only those by layer matter to features. */
  readonly edges: readonly EdgeRule[];
  /** Of these only those by layer matter to features. */
  readonly runGround?: readonly RunGroundRule[];
}

export const NO_RULINGS: Rulings = { byLayer: {}, rules: [], edges: [] };

/** What is ruled of one shape of a feature. */
export interface Ruling {
  readonly role?: Role;
  /** The rule in words, for `Assigned.because`. */
  readonly because: string;
  /** Attributes of the feature with those that the rules give. */
  readonly fields: Fields;
}

type LayerEdge = Extract<EdgeRule, { layer: string }>;
type LayerGround = Extract<RunGroundRule, { layer: string }>;

/** What of the rulings may fit features of one layer. */
interface LayerRulings {
  readonly byName: Role | undefined;
  readonly rules: readonly RoleRule[];
  readonly edge: LayerEdge | undefined;
  readonly ground: LayerGround | undefined;
}

/** Applies rulings, and remembers which of them never fitted. */
export class RuleBook {
  readonly #rulings: Rulings;
  readonly #edges: readonly LayerEdge[];
  readonly #grounds: readonly LayerGround[];
  readonly #used = new Set<unknown>();
  readonly #ofLayer = new Map<GridLayer, LayerRulings>();

  constructor(rulings: Rulings) {
    this.#rulings = rulings;
    this.#edges = rulings.edges.filter((rule): rule is LayerEdge => "layer" in rule);
    this.#grounds = (rulings.runGround ?? []).filter(
      (rule): rule is LayerGround => "layer" in rule,
    );
  }

  /** The ruling on one shape of a feature. */
  rule(layer: GridLayer, fields: Fields, shape: Shape, ruled: FeatureRuling = {}): Ruling {
    if (ruled.isDrawn) return ofOne(ruled, fields, "drawn in the site file");
    const ruling = this.#byRules(layer, fields, shape);
    const { role = ruling.role } = ruled;
    const because = ruled.role ? `one feature → ${ruled.role}` : ruling.because;
    return ofOne({ ...ruled, role }, ruling.fields, because);
  }

  #byRules(layer: GridLayer, fields: Fields, shape: Shape): Ruling {
    const { byName, rules, edge, ground } = this.#of(layer);
    const rule = rules.find((one) => fits(one, fields, shape));
    if (rule) this.#used.add(rule);
    const role = byName ?? rule?.role;
    const because = byName ? `${layer.layer}=${byName}` : rule ? inWords(rule) : "";
    return {
      ...(role && { role }),
      because,
      fields: withSet(fields, {
        ...rule?.set,
        ...(edge && { edge: edge.edge }),
        ...(edge?.setinM !== undefined && { setin_m: edge.setinM }),
        ...(ground && shape === "area" && groundAttributes(ground)),
      }),
    };
  }

  #of(layer: GridLayer): LayerRulings {
    const known = this.#ofLayer.get(layer);
    if (known) return known;
    const { byLayer, rules } = this.#rulings;
    const name = matchingName(layer, Object.keys(byLayer));
    const edge = this.#edges.find((one) => isLayer(layer.layer, one.layer));
    const ground = this.#grounds.find((one) => isLayer(layer.layer, one.layer));
    const ruled = {
      byName: name === undefined ? undefined : byLayer[name],
      rules: rules.filter((one) => one.layer === undefined || isLayer(layer.layer, one.layer)),
      edge,
      ground,
    };
    if (ground) this.#used.add(ground);
    if (name !== undefined) this.#used.add(name);
    if (edge) this.#used.add(edge);
    this.#ofLayer.set(layer, ruled);
    return ruled;
  }

  /** Whether the lines of a layer tell the lawn's edge, unless a rule or attribute says otherwise. */
  isEdgeLayer(layer: GridLayer): boolean {
    return this.#of(layer).edge !== undefined;
  }

  /** Tells of rules that fitted nothing. */
  reportUnused(layers: readonly GridLayer[], note: Note): void {
    const names = listed(
      layers.map((layer) => `"${layer.layer}"`),
      12,
    );
    const say = (message: string) =>
      note({
        code: "ROLE_RULE_UNUSED",
        severity: "warning",
        message,
        remedy: `The layers are: ${names}.`,
      });
    for (const [name, role] of Object.entries(this.#rulings.byLayer)) {
      if (this.#used.has(name)) continue;
      say(`A rule gives layer "${name}" the role ${role}, but there is no such layer.`);
    }
    for (const rule of this.#rulings.rules) {
      if (!this.#used.has(rule)) say(`No feature fits the rule ${inWords(rule)}.`);
    }
    for (const edge of this.#edges) {
      if (this.#used.has(edge)) continue;
      say(`An edge rule names layer "${edge.layer}", but there is no such layer.`);
    }
    for (const ground of this.#grounds) {
      if (this.#used.has(ground)) continue;
      say(`A rule of run_ground names layer "${ground.layer}", but there is no such layer.`);
    }
  }
}

/** What is said of one feature by itself. */
function ofOne({ role, set = {} }: FeatureRuling, fields: Fields, because: string): Ruling {
  return { ...(role && { role }), because, fields: withSet(fields, set) };
}

/** Attributes that a rule for the ground of runs gives to the areas of its layer. */
function groundAttributes({ wire, runCost, slopePercent }: LayerGround) {
  return {
    ...(wire !== undefined && { wire }),
    ...(runCost !== undefined && { run_cost: runCost }),
    ...(slopePercent !== undefined && { slope_percent: slopePercent }),
  };
}

function fits(rule: RoleRule, fields: Fields, shape: Shape): boolean {
  if (rule.geometry !== undefined && rule.geometry !== shape) return false;
  return rule.test === undefined || passes(fields, rule.test);
}

/** Whether an attribute is as a test wants it. */
export function passes(fields: Fields, test: FieldTest): boolean {
  const value = fields.get(test.field.trim().toLowerCase());
  if (value === undefined) return false;
  const { is, atLeast, atMost } = test;
  if (is && !is.some((one) => plain(one) === plain(value))) return false;
  if (atLeast === undefined && atMost === undefined) return true;
  const number = typeof value === "number" ? value : Number.parseFloat(String(value));
  return number >= (atLeast ?? -Infinity) && number <= (atMost ?? Infinity);
}

const plain = (value: unknown) => String(value).trim().toLowerCase();

/** Whether a layer, or the innermost folder of its path, has a name in which `*` is anything. */
export function isLayer(layer: string, wanted: string): boolean {
  const pattern = plain(wanted)
    .split("*")
    .map((part) => part.replace(/[.+?^${}()|[\]\\]/g, "\\$&"))
    .join(".*");
  const test = new RegExp(`^${pattern}$`, "s");
  return test.test(plain(layer)) || test.test(plain(layer.split("/").at(-1)!));
}

function withSet(fields: Fields, set: Readonly<Record<string, unknown>>): Fields {
  if (Object.keys(set).length === 0) return fields;
  const result = new Map(fields);
  for (const [key, value] of Object.entries(set)) result.set(key, value);
  return result;
}

/** A rule as a person would say it: `layer beds, geometry area → bed`. */
function inWords({ layer, test, geometry, role, set }: RoleRule): string {
  const conditions = [
    layer !== undefined && `layer "${layer}"`,
    test && testInWords(test),
    geometry && `geometry ${geometry}`,
  ].filter(Boolean);
  const gives = role ?? listed(Object.entries(set ?? {}).map(([key, value]) => `${key}=${value}`));
  return `${conditions.join(", ") || "everything"} → ${gives}`;
}

/** `landuse = grass or meadow`. */
export function testInWords({ field, is, atLeast, atMost }: FieldTest): string {
  const parts = [
    is && `= ${is.join(" or ")}`,
    atLeast !== undefined && `≥ ${atLeast}`,
    atMost !== undefined && `≤ ${atMost}`,
  ].filter(Boolean);
  return parts.length > 0 ? `${field} ${parts.join(" and ")}` : `${field} given`;
}

/** The name of the list that is meant by a layer: as written, else in other capitals, else its folder. */
function matchingName(layer: GridLayer, names: readonly string[]): string | undefined {
  const innermost = plain(layer.layer.split("/").at(-1)!);
  return (
    names.find((name) => name === layer.layer) ??
    names.find((name) => name.toLowerCase() === layer.layer.toLowerCase()) ??
    names.find((name) => plain(name) === innermost)
  );
}
