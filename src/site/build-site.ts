/**
 * From layers in the site grid to a site: every feature given a role, everything repaired, what is
 * no concern of a lawn left out, and each of these steps told in a finding.
 */
import { boxFinder } from "../geometry/box-finder.ts";
import type { EdgeIndex } from "../geometry/edge-index.ts";
import { difference } from "../geometry/overlay.ts";
import { areaM2 } from "../geometry/rings.ts";
import { soundAreas } from "../geometry/sound-areas.ts";
import type { GridLayer } from "../model/features.ts";
import { done, failed, type Outcome, type SourceRef } from "../model/finding.ts";
import type { Profile } from "../model/profile.ts";
import type { Role } from "../model/roles.ts";
import type { EdgeLine, Lawn, PlacedPoint, Site, SiteGrid, Thing } from "../model/site.ts";
import {
  type EdgeRule,
  REPAIR_TOLERANCES,
  type RepairTolerances,
  type RoleRule,
  type RunGroundRule,
  type SetinRules,
} from "../model/site-rules.ts";
import { nearestName } from "../profile/nearest-name.ts";
import { chooseLawns, type GridLawnChoice, stationsOfChosen } from "./choose-lawns.ts";
import { cutLawnsOut } from "./cut-lawns-out.ts";
import { type DrawnGround, runGroundOf, takeDrawnGround } from "./drawn-ground.ts";
import { withoutDuplicates } from "./duplicates.ts";
import { crossesLawn, edgeLinesOf, UPRIGHT } from "./edge-lines.ts";
import { fillHoles } from "./fill-holes.ts";
import { findLawns } from "./find-lawns.ts";
import type { LawnPiece } from "./lawn-pieces.ts";
import { makeThings, type NewThing } from "./make-things.ts";
import { withoutNearDuplicates } from "./near-duplicates.ts";
import { nearOutlets } from "./near-outlets.ts";
import { Neighbourhood } from "./neighbours.ts";
import { noLawn } from "./no-lawn.ts";
import { counted, listed, type Note, noteBook } from "./notes.ts";
import { outlineAreas } from "./outline-areas.ts";
import { cutOverEdge } from "./over-edge.ts";
import { placedPoints } from "./placed-points.ts";
import { isLayer, type Rulings } from "./rulings.ts";
import { featureKey, withSetins } from "./setin-rules.ts";
import { fillSlivers, withoutSliverLawns } from "./slivers.ts";
import { type RawShape, sortFeatures } from "./sort-features.ts";
import { spotHeights } from "./spot-heights.ts";
import { reportStrayLawns } from "./stray-lawns.ts";
import { Tally } from "./tally.ts";
import { thingsAround } from "./things-around.ts";
import { type UnitedLawn, uniteLawns } from "./unite-lawns.ts";

export interface SiteInput {
  readonly name: string;
  /** Layers in the site grid, metres. */
  readonly layers: readonly GridLayer[];
  readonly grid: SiteGrid;
  readonly profile: Profile;
  /** Roles by layer name; they come before all other evidence. */
  readonly roleRules?: Readonly<Record<string, Role>> | undefined;
  /** Rules of the site file; they come after `roleRules` and before all other evidence. */
  readonly rules?: readonly RoleRule[] | undefined;
  /** Edges by layer and beside roles. */
  readonly edges?: readonly EdgeRule[] | undefined;
  /** Edge lines that the user drew. */
  readonly edgeLines?: readonly EdgeLine[] | undefined;
  /** Ground of runs by layer. */
  readonly runGround?: readonly RunGroundRule[] | undefined;
  /** Ground of runs that the user drew in the site file. */
  readonly drawnGround?: readonly DrawnGround[] | undefined;
  readonly lawns?: GridLawnChoice | undefined;
  /** A layer whose areas enclose the lawns to plan; it is no part of the site. */
  readonly insideLayer?: string | undefined;
  readonly setins?: SetinRules | undefined;
  readonly tolerances?: RepairTolerances | undefined;
  /** Stations and outlets that the user placed; they take the place of those in the layers. */
  readonly stations?: readonly PlacedPoint[] | undefined;
  readonly outlets?: readonly PlacedPoint[] | undefined;
  /** Whether things off the lawn are kept for their shade. */
  readonly withShade?: boolean | undefined;
}

/**
 * Builds the site. Needs `loadEngine()` awaited. n log n in the vertices.
 *
 * @returns the site and all findings with places in metres and degrees; problems: `NO_LAWN` where
 *   nothing in the layers is lawn, `LAWNS_NONE_CHOSEN` and `OUTLINE_LAYER_MISSING` where the choice
 *   of lawns fits none
 */
export function buildSite(input: SiteInput): Outcome<Site> {
  const { name, grid, profile, setins = {}, tolerances = REPAIR_TOLERANCES } = input;
  const { note, findings } = noteBook(grid);
  const outline = outlineLayers(input);
  if ("code" in outline) return failed(outline, findings);
  const { layers, choice } = outline;
  const rulings = rulingsOf(input);
  const sorted = withoutDuplicates(sortFeatures(layers, rulings, note, tolerances), note);
  const { rest: shapes, drawn } = takeDrawnGround(sorted, note);
  const found = findLawns(shapes, note, tolerances);
  const pieces = withoutNearDuplicates(found.pieces, () => "", tolerances.sameShare, note);
  const joined = uniteLawns(pieces, note, tolerances.joinGapM);
  const whole = withoutSliverLawns(joined, tolerances.sliverWidthM, note);
  if (whole.length === 0) return failed(noLawn(layers, shapes), findings);
  const chosen = choice ? chooseLawns(whole, choice, note) : whole;
  if ("code" in chosen) return failed(chosen, findings);
  const united = chosen.map(withSources);
  reportStrayLawns(united, tolerances.farM, note);

  const around = new Neighbourhood(united.map((lawn) => lawn.area));
  const { near, far } = nearShapes(shapes, new Set(found.bedShapes), around);
  const made = makeAll(near.map(withEdges(rulings.edges)), around.edges, profile, note, tolerances);
  const distinct = withoutNearDuplicates(made.things, sortOf, tolerances.sameShare, note);
  const onTop = cutLawnsOut(distinct, [...united, ...swallowed(chosen)], note);
  const { lawns, things: all } = fillHoles(united, [...onTop, ...baysOf(pieces, united)], note);

  const close = new Neighbourhood(lawns.map((lawn) => lawn.area));
  const isClose = new Map(all.map((thing) => [thing, close.holdsThing(thing.areas)]));
  const kept = numbered(all.filter((thing) => isClose.get(thing)));
  const dropped = all.filter((thing) => !isClose.get(thing)).map((thing) => thing.source);
  reportFar([...far.map(({ shape }) => shape.source), ...dropped], note);
  const cut = cutOverEdge(kept, lawns, close.edges, tolerances.overhangM, note);
  const things = fillSlivers(cut, lawns, close.edges, tolerances.sliverWidthM, note);
  const stations = input.stations ?? placedPoints(shapes, "station", note);
  const spots = spotHeights(shapes, layers);
  const said = input.outlets ?? placedPoints(shapes, "outlet", note);
  const outlets = nearOutlets(said, lawns, tolerances.farM, note);
  const matter = outlets.length > 0 || input.withShade === true;
  const shown = matter ? far : far.filter(({ shape }) => shape.fields.has("public"));
  const farther = shown.length > 0 ? thingsAround(shown, lawns, profile) : [];
  const site: Site = {
    name,
    grid,
    lawns,
    things,
    edgeLines: [...made.edgeLines, ...(input.edgeLines ?? [])],
    stations: stationsOfChosen(stations, chosen, whole, note),
    outlets,
    controls: placedPoints(shapes, "control", note),
    ...(farther.length > 0 && { around: farther }),
    ...(spots && { spotHeights: spots }),
    runGround: runGroundOf([...drawn, ...(input.drawnGround ?? [])], profile),
  };
  return done(withSetins(site, setins, note, saidSetins(shapes)), findings);
}

/** A lawn with all features that it was made of, where there are several. */
function withSources({ members, ...lawn }: UnitedLawn): Lawn {
  const sources = [...new Set(members.map(({ source }) => source))];
  return sources.length > 1 ? { ...lawn, sources } : lawn;
}

const sortOf = ({ role, contact, edgeKind }: NewThing) => `${role} ${contact} ${edgeKind}`;

/** Lawns drawn inside others, which are no longer seen once the two are one: courtyards, clearings. */
function swallowed(lawns: readonly UnitedLawn[]): Lawn[] {
  return lawns.flatMap(({ area, members }) => {
    if (members.length < 2) return [];
    const wholeM2 = areaM2(area);
    return members.flatMap(({ name, areas, source }) =>
      areas.filter((one) => areaM2(one) < wholeM2 / 2).map((one) => ({ name, area: one, source })),
    );
  });
}

/** What the user rules, from the parts of the input that say so. */
export function rulingsOf({ roleRules, rules, edges, runGround }: Partial<SiteInput>): Rulings {
  return {
    byLayer: roleRules ?? {},
    rules: rules ?? [],
    edges: edges ?? [],
    runGround: runGround ?? [],
  };
}

/** The layers of the site without the one that is only there to choose lawns by. */
function outlineLayers({
  layers,
  lawns,
  insideLayer,
}: SiteInput):
  | { layers: readonly GridLayer[]; choice: GridLawnChoice | undefined }
  | ReturnType<typeof noOutline> {
  if (insideLayer === undefined) return { layers, choice: lawns };
  const isOutline = (layer: GridLayer) => isLayer(layer.layer, insideLayer);
  const drawn = layers
    .filter(isOutline)
    .flatMap((layer) => layer.features.flatMap(({ geometry }) => geometry ?? []));
  const inside = outlineAreas(...drawn);
  if (inside.length === 0) return noOutline(insideLayer, layers);
  return { layers: layers.filter((layer) => !isOutline(layer)), choice: { ...lawns, inside } };
}

function noOutline(name: string, layers: readonly GridLayer[]) {
  const near = nearestName(
    name,
    layers.map((layer) => layer.layer),
  );
  return {
    code: "OUTLINE_LAYER_MISSING",
    kind: "usage" as const,
    message: `Lawns are to be chosen inside the areas of layer "${name}", but there is no such layer with areas.`,
    remedy: `${near ? `Did you mean "${near}"? ` : ""}The layers are: ${listed(
      layers.map((layer) => `"${layer.layer}"`),
      12,
    )}.`,
  };
}

/** Features whose set-in the site file says one by one: nothing else comes before that. */
function saidSetins(shapes: readonly RawShape[]): ReadonlySet<string> {
  const said = shapes.filter((shape) => shape.said?.setin_m !== undefined);
  return new Set(said.map(({ source }) => featureKey(source)));
}

/** A shape with the edge kind that is ruled for everything with its role. */
function withEdges(
  edges: readonly EdgeRule[],
): (one: { shape: RawShape; role: Role }) => { shape: RawShape; role: Role } {
  return ({ shape, role }) => {
    const rule = edges.find((one) => "beside" in one && one.beside === role);
    if (!rule || shape.said?.edge !== undefined) return { shape, role };
    const fields = new Map(shape.fields).set("edge", rule.edge);
    return {
      role,
      shape: { ...shape, fields, assigned: { ...shape.assigned, edgeKind: rule.edge } },
    };
  };
}

/** Roles that are neither things nor edges. */
const APART: ReadonlySet<Role> = new Set<Role>(["station", "outlet", "control", "ignore"]);

/** Shapes that stand for things or edges, with their role, split by whether a lawn is near. */
function nearShapes(
  shapes: readonly RawShape[],
  beds: ReadonlySet<RawShape>,
  around: Neighbourhood,
): { near: { shape: RawShape; role: Role }[]; far: { shape: RawShape; role: Role }[] } {
  const near: { shape: RawShape; role: Role }[] = [];
  const far: { shape: RawShape; role: Role }[] = [];
  for (const shape of shapes) {
    const role = beds.has(shape) ? "bed" : shape.assigned.role;
    if (role === undefined || APART.has(role)) continue;
    if (role === "lawn") continue;
    if (around.holdsShape(shape)) near.push({ shape, role });
    else far.push({ shape, role });
  }
  return { near, far };
}

function makeAll(
  near: readonly { shape: RawShape; role: Role }[],
  edges: EdgeIndex,
  profile: Profile,
  note: Note,
  tolerances: RepairTolerances,
): { things: NewThing[]; edgeLines: EdgeLine[] } {
  const tally = new Tally();
  const things: NewThing[] = [];
  const edgeLines: EdgeLine[] = [];
  const retaining: RawShape[] = [];
  for (const { shape, role } of near) {
    const kind = shape.assigned.edgeKind;
    if (role === "edge") {
      for (const line of edgeLinesOf(shape, undefined, note)) edgeLines.push(line);
    } else if (role === "firm" && shape.shape === "line" && kind && UPRIGHT.has(kind)) {
      // A wall along a lawn tells its edge; one that runs through it takes its strip away too.
      for (const line of edgeLinesOf(shape, kind, note)) edgeLines.push(line);
      if (shape.assigned.because === "barrier=retaining_wall") retaining.push(shape);
      if (crossesLawn(shape, shape.assigned.widthM ?? 0.3, edges)) {
        things.push(...makeThings(shape, role, profile, tally, () => {}, tolerances));
      }
    } else {
      things.push(...makeThings(shape, role, profile, tally, note, tolerances));
    }
  }
  tally.tell(note);
  reportRetaining(retaining, note);
  return { things, edgeLines };
}

/** A wall from below is a drop from above, and the tag does not say on which side the lawn is. */
function reportRetaining(walls: readonly RawShape[], note: Note): void {
  const [first] = walls;
  if (!first) return;
  note({
    code: "RETAINING_WALL",
    severity: "warning",
    message: `${counted(walls.length, "retaining wall")} by a lawn taken as walls; where the lawn lies above one, it is a drop.`,
    remedy: "Give the attribute edge = drop to those that the lawn lies above.",
    atM: [first.lines[0]![0]![0]!, first.lines[0]![0]![1]!],
    ...first.source,
  });
}

/** What holes took from the rim of a lawn: beds beside it, less other lawns drawn there. */
function baysOf(pieces: readonly LawnPiece[], lawns: readonly Lawn[]): NewThing[] {
  const lawnsAt = boxFinder(lawns.map((lawn) => [lawn.area]));
  return pieces.flatMap((piece) =>
    piece.bays.flatMap((bay, i) => {
      const near = lawnsAt([bay]).map((l) => lawns[l]!.area);
      const areas = soundAreas(difference([bay], near));
      if (areas.length === 0) return [];
      return {
        role: "bed" as const,
        name: `${piece.name} hole at the edge ${i + 1}`,
        areas,
        contact: "loop" as const,
        edgeKind: "open" as const,
        isHole: true,
        source: piece.source,
      };
    }),
  );
}

/** Things with ids and names by role and running number. */
function numbered(things: readonly NewThing[]): Thing[] {
  const counts = new Map<Role, number>();
  return things.map((thing) => {
    const number = (counts.get(thing.role) ?? 0) + 1;
    counts.set(thing.role, number);
    const id = `${thing.role}-${number}`;
    return { ...thing, id, name: thing.name ?? `${thing.role} ${number}` };
  });
}

function reportFar(sources: readonly SourceRef[], note: Note): void {
  const [first] = sources;
  if (!first) return;
  note({
    code: "THINGS_FAR_AWAY",
    severity: "info",
    message: `${counted(sources.length, "feature")} farther than 1 m from every planned lawn left out, since they do not matter to the wire: ${listed(sources.map((one) => one.feature ?? ""))}.`,
    remedy: "Nothing to do.",
    ...first,
  });
}
