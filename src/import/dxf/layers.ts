import type { Geometry, Position } from "geojson";
import type { CrsDeclaration, RawFeature, RawLayer } from "../../model/features.ts";
import type { Point3 } from "../chords.ts";
import { fieldsOf } from "../members.ts";
import type { FindingList } from "../reader.ts";
import { groupRings } from "../rings.ts";
import type { PlacedPiece } from "./expand-blocks.ts";
import { joinRings } from "./join-lines.ts";
import { attributesOf } from "./plan-data.ts";

/** Pieces of a plan's attributes by the handle of their entity. */
type PlanData = ReadonlyMap<string, readonly string[]>;

/** Ends of lines nearer than this meet, metres. */
const MEETING_M = 0.001;

/** Letters that DXF files before 2007 and some programs after it write as \U+00E9. */
function withLetters(name: string): string {
  return name.replace(/\\U\+([0-9A-F]{4})/gi, (_, hex: string) =>
    String.fromCharCode(Number.parseInt(hex, 16)),
  );
}

function positionsOf(points: readonly Point3[], isFlat: boolean): Position[] {
  return points.map(([x, y, z]) => (isFlat ? [x, y] : [x, y, z]));
}

function geometryOf({ piece }: PlacedPiece): Geometry {
  // A drawing writes a height of 0 for everything that has none.
  const isFlat = piece.parts.every((part) => part.every(([, , z]) => z === 0));
  const parts = piece.parts.map((part) => positionsOf(part, isFlat));
  if (piece.kind === "point") return { type: "Point", coordinates: parts[0]![0]! };
  if (piece.kind === "line") return { type: "LineString", coordinates: parts[0]! };
  return groupRings(parts).geometry;
}

function isFinitePiece({ piece }: PlacedPiece): boolean {
  return piece.parts.every((part) => part.every((point) => point.every(Number.isFinite)));
}

function propertiesOf({ entity, block }: PlacedPiece, data: PlanData): Record<string, unknown> {
  const own = block === undefined ? data.get(String(entity.handle)) : undefined;
  return {
    ...(own === undefined ? {} : attributesOf(own)),
    entity: entity.type,
    ...(typeof entity.handle === "string" ? { handle: entity.handle } : {}),
    ...(block === undefined ? {} : { block: withLetters(block) }),
  };
}

function isOpen({ piece }: PlacedPiece): boolean {
  const [line] = piece.parts;
  if (piece.kind !== "line" || line === undefined || line.length < 2) return false;
  const [a, b] = [line[0]!, line.at(-1)!];
  return a[0] !== b[0] || a[1] !== b[1];
}

/** Features of one layer in the drawing's order: shapes as they are, open lines joined to rings. */
function featuresOf(
  pieces: readonly PlacedPiece[],
  layer: string,
  tolerance: number,
  data: PlanData,
  findings: FindingList,
): RawFeature[] {
  const features: { order: number; feature: RawFeature }[] = [];
  const numbers = new Map<number, number>();
  const order = new Map(pieces.map((placed, index) => [placed, index]));
  for (const { number } of pieces) {
    if (!numbers.has(number)) numbers.set(number, numbers.size + 1);
  }
  const add = (placed: PlacedPiece, geometry: Geometry, more: Record<string, unknown> = {}) => {
    const number = numbers.get(placed.number)!;
    const properties = { ...propertiesOf(placed, data), ...more };
    features.push({ order: order.get(placed)!, feature: { number, geometry, properties } });
  };
  const isOurs = ({ entity }: PlacedPiece) => data.has(String(entity.handle));
  const open = pieces
    .filter((one) => isOpen(one) && !isOurs(one))
    .map((placed) => ({
      positions: (geometryOf(placed) as { coordinates: Position[] }).coordinates,
      of: placed,
    }));
  const { rings } = joinRings(open, tolerance);
  const joined = new Set<PlacedPiece>();
  for (const { members, ring } of rings) {
    for (const member of members) joined.add(member);
    add(members[0]!, { type: "LineString", coordinates: ring }, { joined: members.length });
  }
  for (const placed of pieces) if (!joined.has(placed)) add(placed, geometryOf(placed));
  if (rings.length > 0) {
    findings.add({
      code: "DXF_LINES_JOINED",
      severity: "info",
      layer,
      message: `${joined.size} lines of layer ${layer} whose ends meet are joined to ${rings.length} closed ring(s)`,
      remedy: "Nothing to do, unless they are no outlines.",
    });
  }
  return features.sort((a, b) => a.order - b.order).map(({ feature }) => feature);
}

/** The layers of a drawing, in the order in which they are first drawn on. */
export function layersOf(
  file: string,
  pieces: readonly PlacedPiece[],
  unitM: number | undefined,
  said: { readonly data: PlanData; readonly crs: CrsDeclaration },
  findings: FindingList,
): RawLayer[] {
  const byLayer = new Map<string, PlacedPiece[]>();
  for (const placed of pieces) {
    const held = byLayer.get(placed.layer);
    if (held) held.push(placed);
    else byLayer.set(placed.layer, [placed]);
  }
  return [...byLayer].map(([name, held]) => {
    const layer = withLetters(name);
    const sound = held.filter((placed) => {
      if (isFinitePiece(placed)) return true;
      findings.add({
        code: "COORDINATE_NOT_A_NUMBER",
        severity: "error",
        layer,
        feature: `${placed.entity.type} ${placed.entity.handle ?? placed.number}`,
        message: `a ${placed.entity.type} is left out: a coordinate, radius or angle is missing or no number`,
        remedy: "Correct or remove that entity in the drawing.",
      });
      return false;
    });
    const features = featuresOf(sound, layer, MEETING_M / (unitM ?? 1), said.data, findings);
    return {
      file,
      format: "dxf",
      layer,
      features,
      featuresInFile: new Set(held.map(({ number }) => number)).size,
      fields: fieldsOf(features),
      crs: said.crs,
      ...(unitM === undefined ? {} : { unitM }),
    };
  });
}
