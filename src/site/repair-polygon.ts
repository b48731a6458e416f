import type { Position } from "geojson";
import { pointInside, ringHolds } from "../geometry/containment.ts";
import { EdgeIndex } from "../geometry/edge-index.ts";
import { areasFromRings, difference, intersection, union } from "../geometry/overlay.ts";
import { type Contact, ringContacts } from "../geometry/ring-contacts.ts";
import {
  anticlockwise,
  boxOf,
  clockwise,
  signedAreaM2,
  totalAreaM2,
  vertexAt,
} from "../geometry/rings.ts";
import { NO_AREA_M2, soundAreas } from "../geometry/sound-areas.ts";
import type { SourceRef } from "../model/finding.ts";
import type { AreaM, PointM, RingM } from "../model/geometry.ts";
import { REPAIR_TOLERANCES } from "../model/site-rules.ts";
import { type CleanedRing, cleanRing } from "./clean-ring.ts";
import { counted, type Note, squareMetres } from "./notes.ts";
import { flatOf } from "./parts.ts";

/**
 * Outlines that cross themselves, or touch, at so many places are no drawing of anything, and taking
 * them apart would take the square of the number. Outlines traced from pictures touch often.
 */
const CROSSINGS_MAX = 2_000;
const CONTACTS_MAX = 50_000;

/** A polygon as it should have been drawn. */
export interface RepairedPolygon {
  /** Valid, disjoint; shells anticlockwise, holes clockwise. Empty where nothing was left. */
  readonly areas: readonly AreaM[];
  /** Parts of holes that reached over the shell: not in `areas`, and no longer holes of them. */
  readonly bays: readonly AreaM[];
}

/**
 * Repairs one polygon; each change becomes a finding with its place (docs/repair.md).
 *
 * A sound polygon comes back vertex for vertex. A ring that crosses itself is read by the even-odd
 * rule, so that both wings of a bow-tie stay; a hole takes out what it covers of the shell, whether
 * or not it keeps within it, and never adds to it.
 *
 * @param rings the shell and its holes in metres, as read
 * @param spikeWidthM out and back within this is a spike
 */
export function repairPolygon(
  rings: readonly (readonly Position[])[],
  source: SourceRef,
  note: Note,
  spikeWidthM = REPAIR_TOLERANCES.spikeWidthM,
): RepairedPolygon {
  const cleaned = rings.map((ring) => cleanRing(flatOf(ring), spikeWidthM));
  reportCleaning(cleaned, source, note);
  const usable = cleaned.map((one) => one.ring);
  const [shell, ...holes] = usable;
  if (shell === undefined || !hasArea(shell, "outline", source, note)) {
    return { areas: [], bays: [] };
  }
  const soundHoles = holes.filter((hole) => hasArea(hole, "hole", source, note));
  const contacts = ringContacts([shell, ...soundHoles], CONTACTS_MAX);
  if (isTangled(contacts)) {
    note({
      code: "RING_TANGLED",
      severity: "error",
      message: `The outline crosses or touches itself, or its holes, at more than ${contacts.length >= CONTACTS_MAX ? CONTACTS_MAX : CROSSINGS_MAX} places; the whole feature was left out.`,
      remedy: "Draw it again; check its points in the program that made the file.",
      atM: contacts[0]!.atM,
      ...source,
    });
    return { areas: [], bays: [] };
  }
  const crossesItself = (r: number) => contacts.filter((c) => c.ringA === r && c.ringB === r);
  const shellAreas = untangled(shell, crossesItself(0), "outline", source, note);
  if (soundHoles.length === 0) return { areas: shellAreas, bays: [] };
  const holeAreas = soundHoles.map((hole, h) =>
    untangled(hole, crossesItself(h + 1), "hole", source, note),
  );
  const clean = contacts.length === 0 && eachHoleInShellAlone(shell, soundHoles);
  if (clean) {
    return { areas: [{ shell: anticlockwise(shell), holes: soundHoles.map(clockwise) }], bays: [] };
  }
  const touching = contacts.filter((contact) => contact.ringA !== contact.ringB);
  return cutHoles(shellAreas, holeAreas, touching, source, note);
}

function isTangled(contacts: readonly Contact[]): boolean {
  if (contacts.length >= CONTACTS_MAX) return true;
  if (contacts.length < CROSSINGS_MAX) return false;
  return contacts.filter(({ kind }) => kind === "cross").length >= CROSSINGS_MAX;
}

/** For rings that neither cross nor touch: whether each hole lies in the shell and in no hole. */
function eachHoleInShellAlone(shell: RingM, holes: readonly RingM[]): boolean {
  const edges = new EdgeIndex([shell, ...holes].map((ring) => [{ shell: ring, holes: [] }]));
  const box = boxOf(shell);
  return holes.every((hole, h) => {
    // A hole that goes round the whole shell may have its own inner point within the shell.
    const { minE, minN, maxE, maxN } = boxOf(hole);
    if (minE < box.minE || minN < box.minN || maxE > box.maxE || maxN > box.maxN) return false;
    const around = edges.holders(...pointInside(hole));
    return around.length === 2 && around.includes(0) && around.includes(h + 1);
  });
}

function cutHoles(
  shellAreas: readonly AreaM[],
  holeAreas: readonly (readonly AreaM[])[],
  contacts: readonly Contact[],
  source: SourceRef,
  note: Note,
): RepairedPolygon {
  let isTold = false;
  const tell: Note = (finding) => {
    isTold = true;
    note(finding);
  };
  const kept: AreaM[] = [];
  const bays: AreaM[] = [];
  for (const hole of holeAreas) {
    if (hole.length === 0) continue;
    const inside = soundAreas(intersection(hole, shellAreas));
    const areaM2 = totalAreaM2(hole);
    const insideM2 = totalAreaM2(inside);
    const atM = vertexAt(hole[0]!.shell, 0);
    if (insideM2 < NO_AREA_M2) {
      tell({
        code: "HOLE_OUTSIDE",
        severity: "warning",
        message: `A hole of ${squareMetres(areaM2)} lies outside the outline it belongs to; it was left out.`,
        remedy: "Draw it as a feature of its own with a role if something is there.",
        atM,
        ...source,
      });
      continue;
    }
    if (areaM2 - insideM2 >= NO_AREA_M2) {
      const outside = difference(hole, shellAreas)[0];
      tell({
        code: "HOLE_CROSSES_OUTLINE",
        severity: "warning",
        message: `A hole of ${squareMetres(areaM2)} reaches over the outline; its ${squareMetres(insideM2)} inside were taken out, the rest was left out.`,
        remedy: "Move the hole inside the outline, or draw the outline round it.",
        atM: outside ? vertexAt(outside.shell, 0) : atM,
        ...source,
      });
      bays.push(...inside);
    } else {
      kept.push(...hole);
    }
  }
  const merged = soundAreas(union(kept));
  const overlapM2 = totalAreaM2(kept) - totalAreaM2(merged);
  if (overlapM2 >= NO_AREA_M2) {
    const crossing = ringContacts(kept.map((hole) => hole.shell)).find((c) => c.ringA !== c.ringB);
    tell({
      code: "HOLES_OVERLAP",
      severity: "warning",
      message: `Holes overlap by ${squareMetres(overlapM2)}; they were united.`,
      remedy: "Draw one hole, or holes beside each other.",
      atM: crossing?.atM ?? vertexAt(kept[0]!.shell, 0),
      ...source,
    });
  }
  const areas = soundAreas(difference(shellAreas, [...merged, ...bays]));
  // Holes that touch the outline along a stretch are bays of it, not holes.
  const rims = areas.flatMap((area) => area.holes.map((hole) => ({ shell: hole, holes: [] })));
  const touching = merged.filter(
    (hole) =>
      !rims.some((rim) => ringHolds(rim.shell, hole.shell) || samePlace(rim.shell, hole.shell)),
  );
  for (const bay of touching) {
    tell({
      code: "HOLE_CROSSES_OUTLINE",
      severity: "info",
      message: `A hole of ${squareMetres(totalAreaM2([bay]))} runs along the outline; it was taken out as a bay of it.`,
      remedy: "Nothing to do; draw it as a bed of its own to give it a name.",
      atM: vertexAt(bay.shell, 0),
      ...source,
    });
  }
  const place = isTold ? undefined : joinedAt(contacts, areas.length > shellAreas.length);
  if (place !== undefined) {
    note({
      code: "HOLES_TOUCH",
      severity: "info",
      message: `Holes touch each other or the outline along a line or at several places; it was read as ${counted(areas.length, "part")} with ${counted(rims.length, "hole")}.`,
      remedy: "Nothing to do, or draw holes that touch as one.",
      atM: place,
      ...source,
    });
  }
  return { areas, bays: [...bays, ...touching] };
}

/** Where two rings touch at more than one place, or any where the touching divides the area. */
function joinedAt(contacts: readonly Contact[], isDivided: boolean): PointM | undefined {
  if (isDivided) return contacts[0]?.atM;
  const seen = new Map<string, PointM>();
  for (const { ringA, ringB, atM } of contacts) {
    const pair = `${Math.min(ringA, ringB)} ${Math.max(ringA, ringB)}`;
    const first = seen.get(pair);
    if (first === undefined) seen.set(pair, atM);
    else if (Math.hypot(first[0] - atM[0], first[1] - atM[1]) > 1e-6) return atM;
  }
  return undefined;
}

function samePlace(a: RingM, b: RingM): boolean {
  return a.length === b.length && Math.abs(signedAreaM2(a) + signedAreaM2(b)) < NO_AREA_M2;
}

/** The ring as areas: itself where it is simple, read by the even-odd rule where it is not. */
function untangled(
  ring: RingM,
  contacts: readonly { kind: "cross" | "touch"; atM: PointM }[],
  what: "outline" | "hole",
  source: SourceRef,
  note: Note,
): AreaM[] {
  if (contacts.length === 0) return [{ shell: anticlockwise(ring), holes: [] }];
  const areas = soundAreas(areasFromRings([ring], "even-odd"));
  const crossings = contacts.filter((contact) => contact.kind === "cross");
  const first = (crossings[0] ?? contacts[0]!).atM;
  const pieces =
    areas.length === 1 && areas[0]!.holes.length === 0
      ? "one outline"
      : `${counted(areas.length, "part")} with ${counted(
          areas.reduce((sum, area) => sum + area.holes.length, 0),
          "hole",
        )}`;
  note({
    code: crossings.length > 0 ? "RING_SELF_CROSSES" : "RING_SELF_TOUCHES",
    severity: crossings.length > 0 ? "warning" : "info",
    message:
      crossings.length > 0
        ? `The ${what} crosses itself at ${counted(crossings.length, "place")}; it was split there into ${pieces}, every part kept. Area by its points ${squareMetres(Math.abs(signedAreaM2(ring)))}, after the repair ${squareMetres(totalAreaM2(areas))}.`
        : `The ${what} touches itself; it was read as ${pieces} of ${squareMetres(totalAreaM2(areas))}.`,
    remedy: "Check the outline there; redraw it if a wing is not meant.",
    atM: first,
    ...source,
  });
  return areas;
}

function hasArea(ring: RingM, what: "outline" | "hole", source: SourceRef, note: Note): boolean {
  const place = ring.length >= 2 ? { atM: vertexAt(ring, 0) } : {};
  if (ring.length < 6) {
    note({
      code: "RING_TOO_FEW_POINTS",
      severity: "warning",
      message:
        `An ${what} has ${counted(ring.length >> 1, "point")} of its own and encloses nothing; it was left out.`.replace(
          "An hole",
          "A hole",
        ),
      remedy: "Draw at least three corners, or remove it.",
      ...place,
      ...source,
    });
    return false;
  }
  // A bow-tie may have no area by its points and two wings all the same.
  if (Math.abs(signedAreaM2(ring)) >= NO_AREA_M2) return true;
  if (isTangled(ringContacts([ring], CONTACTS_MAX))) return true;
  if (totalAreaM2(areasFromRings([ring], "even-odd")) >= NO_AREA_M2) return true;
  note({
    code: "RING_NO_AREA",
    severity: "warning",
    message: `${what === "hole" ? "A hole" : "An outline"} encloses less than 1 cm²; it was left out.`,
    remedy: "Draw it again at its true size, or remove it.",
    ...place,
    ...source,
  });
  return false;
}

function reportCleaning(cleaned: readonly CleanedRing[], source: SourceRef, note: Note): void {
  for (const { openByM, ring } of cleaned) {
    if (openByM === undefined || ring.length < 6) continue;
    note({
      code: "RING_NOT_CLOSED",
      severity: "warning",
      message: `An outline does not end where it begins, ${openByM.toFixed(3)} m short; it was closed by a straight line.`,
      remedy: "Check that nothing is missing between its last point and its first.",
      atM: vertexAt(ring, 0),
      ...source,
    });
  }
  const doubled = cleaned.reduce((sum, one) => sum + one.doubled, 0);
  const doubledAtM = cleaned.find((one) => one.doubledAtM)?.doubledAtM;
  if (doubledAtM) {
    note({
      code: "DUPLICATE_POINTS",
      severity: "info",
      message: `${counted(doubled, "point")} repeated the one before; each was taken once.`,
      remedy: "Nothing to do.",
      atM: doubledAtM,
      ...source,
    });
  }
  for (const { spikes } of cleaned) {
    for (const spike of spikes) {
      note({
        code: "RING_SPIKE",
        severity: "warning",
        message: `The outline runs out ${spike.lengthM.toFixed(3)} m and back on itself; the spike was taken off, which changes ${spike.areaM2 < 0.0001 ? "no area" : `the area by ${squareMetres(spike.areaM2)}`}.`,
        remedy: "Check the point if something is meant to be there.",
        atM: spike.atM,
        ...source,
      });
    }
  }
}
