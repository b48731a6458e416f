import { AreaIndex } from "../geometry/area-index.ts";
import { EdgeIndex } from "../geometry/edge-index.ts";
import { intersection } from "../geometry/overlay.ts";
import { areaM2, totalAreaM2, vertexAt } from "../geometry/rings.ts";
import { SegmentIndex } from "../geometry/segment-index.ts";
import type { Problem } from "../model/finding.ts";
import type { AreaM, PointM } from "../model/geometry.ts";
import type { PlacedPoint } from "../model/site.ts";
import type { FieldTest } from "../model/site-rules.ts";
import { nearestName } from "../profile/nearest-name.ts";
import type { Repaired } from "./lawn-pieces.ts";
import { counted, listed, type Note, squareMetres } from "./notes.ts";
import { passes, testInWords } from "./rulings.ts";
import type { UnitedLawn } from "./unite-lawns.ts";

/** Which lawns to plan, in the site grid. */
export interface GridLawnChoice {
  readonly names?: readonly string[] | undefined;
  readonly test?: FieldTest | undefined;
  readonly leastAreaM2?: number | undefined;
  /** Lawns of which most lies inside these areas. */
  readonly inside?: readonly AreaM[] | undefined;
  readonly nearest?: { readonly atM: PointM; readonly count: number } | undefined;
}

/** Share of a lawn that must lie inside an outline for the lawn to count as inside it. */
const INSIDE_SHARE = 0.5;

/**
 * The lawns that a choice names: those that meet everything it says. A lawn that grew from several
 * features is chosen by any of them.
 *
 * @returns the chosen lawns, or the problem `LAWNS_NONE_CHOSEN`; findings tell how many are left out
 */
export function chooseLawns(
  lawns: readonly UnitedLawn[],
  choice: GridLawnChoice,
  note: Note,
): UnitedLawn[] | Problem {
  const { names, test, leastAreaM2, inside, nearest } = choice;
  let left = [...lawns];
  const steps: string[] = [];
  const step = (words: string, keep: (lawn: UnitedLawn) => boolean): void => {
    left = left.filter(keep);
    steps.push(`${words}: ${left.length} of ${lawns.length}`);
  };
  if (names) {
    const wanted = new Set(names.map(plain));
    step(`named ${listed(names)}`, (lawn) => namesOf(lawn).some((name) => wanted.has(plain(name))));
    reportUnusedNames(names, lawns, note);
  }
  if (test) {
    step(testInWords(test), (lawn) => lawn.members.some(({ shape }) => passes(shape.fields, test)));
  }
  if (leastAreaM2 !== undefined) {
    // One part per million less: what the site grid may take from an area of just that size.
    step(`at least ${leastAreaM2} m²`, ({ area }) => areaM2(area) >= leastAreaM2 * (1 - 1e-6));
  }
  if (inside) step("inside the outline", ({ area }) => isInside(area, inside));
  if (nearest) left = nearestLawns(left, nearest.atM, nearest.count);
  if (nearest) steps.push(`the nearest ${nearest.count}: ${left.length} of ${lawns.length}`);
  if (left.length === 0) return noneChosen(lawns, steps, names);
  if (left.length < lawns.length) reportLeftOut(left, lawns, steps, note);
  return left;
}

function namesOf({ name, members }: UnitedLawn): string[] {
  return [name, ...members.flatMap(otherNames)];
}

/** Names by which people call a feature: its own, its ids, its number. */
function otherNames({ name, source, shape }: Repaired): string[] {
  const ids = ["id", "@id", "osm_id", "fid"].map((key) => shape.fields.get(key));
  const given = ids.filter((id) => typeof id === "string" || typeof id === "number").map(String);
  return [name, ...(source.feature === undefined ? [] : [source.feature]), ...shape.ids, ...given];
}

const plain = (name: string) => name.trim().toLowerCase();

function isInside(area: AreaM, outline: readonly AreaM[]): boolean {
  return totalAreaM2(intersection([area], outline)) > INSIDE_SHARE * areaM2(area);
}

/** Nearest first by distance of their edges from the place, 0 for a lawn that holds it. */
function nearestLawns(lawns: readonly UnitedLawn[], [e, n]: PointM, count: number): UnitedLawn[] {
  const holder = new AreaIndex(lawns.map((lawn) => lawn.area)).locate(e, n);
  const distances = lawns.map((lawn, i) => {
    if (i === holder) return 0;
    return new SegmentIndex([lawn.area.shell]).nearest(e, n, Infinity)?.distanceM ?? Infinity;
  });
  const chosen = new Set(
    lawns
      .map((_, i) => i)
      .sort((a, b) => distances[a]! - distances[b]!)
      .slice(0, count),
  );
  return lawns.filter((_, i) => chosen.has(i));
}

function reportUnusedNames(
  names: readonly string[],
  lawns: readonly UnitedLawn[],
  note: Note,
): void {
  const known = lawns.flatMap(namesOf);
  const plainKnown = new Set(known.map(plain));
  for (const name of names) {
    if (plainKnown.has(plain(name))) continue;
    const near = nearestName(name, known);
    note({
      code: "LAWN_NAME_UNUSED",
      severity: "warning",
      message: `There is no lawn "${name}".`,
      remedy: near
        ? `Did you mean "${near}"?`
        : `The lawns are: ${listed([...new Set(lawns.map((lawn) => lawn.name))], 12)}.`,
    });
  }
}

function noneChosen(
  lawns: readonly UnitedLawn[],
  steps: readonly string[],
  names: readonly string[] | undefined,
): Problem {
  const known = lawns.flatMap(namesOf);
  const near = names?.flatMap((name) => nearestName(name, known) ?? []) ?? [];
  const hint = near.length > 0 ? `Did you mean ${listed(near)}? ` : "";
  const largest = [...lawns].sort((a, b) => areaM2(b.area) - areaM2(a.area));
  const list = largest.map((lawn) => `${lawn.name} (${squareMetres(areaM2(lawn.area))})`);
  return {
    code: "LAWNS_NONE_CHOSEN",
    kind: "usage",
    message: `None of the ${counted(lawns.length, "lawn")} is as the choice wants it: ${steps.join("; ")}.`,
    remedy: `${hint}Choose otherwise; the largest are ${listed(list, 5)}.`,
  };
}

function reportLeftOut(
  chosen: readonly UnitedLawn[],
  lawns: readonly UnitedLawn[],
  steps: readonly string[],
  note: Note,
): void {
  const chosenM2 = totalAreaM2(chosen.map((lawn) => lawn.area));
  const wholeM2 = totalAreaM2(lawns.map((lawn) => lawn.area));
  const kept = new Set(chosen);
  const out = lawns.filter((lawn) => !kept.has(lawn));
  note({
    code: "LAWNS_LEFT_OUT",
    severity: "info",
    message: `${chosen.length} of ${counted(lawns.length, "lawn")} planned, ${squareMetres(chosenM2)} of ${squareMetres(wholeM2)}; ${out.length} left out as chosen (${steps.join("; ")}), the first being ${out[0]!.name}.`,
    remedy: "Nothing to do; change lawns in the site file, or --lawn, to plan others.",
    atM: vertexAt(out[0]!.area.shell, 0),
    ...out[0]!.source,
  });
}

/** Stations whose nearest lawn is one that is planned; the others are told. */
export function stationsOfChosen(
  stations: readonly PlacedPoint[],
  chosen: readonly UnitedLawn[],
  lawns: readonly UnitedLawn[],
  note: Note,
): PlacedPoint[] {
  if (chosen.length === lawns.length || stations.length === 0) return [...stations];
  const kept = new Set(chosen);
  const edges = new SegmentIndex(lawns.map((lawn) => lawn.area.shell));
  const within = new EdgeIndex(lawns.map((lawn) => [lawn.area]));
  const belongs = ({ atM: [e, n] }: PlacedPoint): boolean => {
    const [holder] = within.holders(e, n);
    const near = edges.nearest(e, n, Infinity);
    const l = holder ?? (near ? edges.ringOf[near.segment]! : 0);
    return kept.has(lawns[l]!);
  };
  const out = stations.filter((station) => !belongs(station));
  const [first] = out;
  if (first) {
    note({
      code: "STATIONS_LEFT_OUT",
      severity: "info",
      message: `${counted(out.length, "station")} left out that belong to lawns which are not planned: ${listed(out.map((one) => one.name))}.`,
      remedy: "Nothing to do.",
      atM: first.atM,
      ...first.source,
    });
  }
  return stations.filter(belongs);
}
