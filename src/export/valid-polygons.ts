import type { Position } from "geojson";
import {
  anticlockwise,
  areaM2,
  clockwise,
  signedAreaM2,
  totalAreaM2,
  vertexCount,
} from "../geometry/rings.ts";
import { NO_AREA_M2, soundOnGrid } from "../geometry/sound-areas.ts";
import type { AreaM, RingM } from "../model/geometry.ts";
import type { SiteGrid } from "../model/site.ts";
import { DEGREE_DECIMALS } from "./degrees.ts";

/** Polygons ready to be written. */
export interface WrittenPolygons {
  readonly polygons: Position[][][];
  /** Area of slivers that could not be drawn as valid polygons, m². */
  readonly notDrawnM2: number;
}

/** Written positions are whole numbers of this many to a degree. */
const UNITS = 10 ** DEGREE_DECIMALS;

/**
 * Areas as polygons in degrees that are valid after rounding to 9 decimals, each and together.
 *
 * Rounding moves a vertex by up to 0.07 mm, which can fold a sliver over or push neighbours that
 * touch into each other. So validity is settled on the rounded positions themselves: where rings
 * meet they are cut and walked anew (`soundOnGrid`), and slivers below a square centimetre go. The
 * area lost on the way is returned.
 */
export function validPolygons(areas: readonly AreaM[], grid: SiteGrid): WrittenPolygons {
  const all = areas.map((area) => inUnits(area, grid));
  const rounded = all.filter(isArea);
  const flattened = areas.filter((_, i) => !isArea(all[i]!));
  const scale = unitsPerM2(areas, rounded);
  const least = NO_AREA_M2 * scale;
  const sound = soundOnGrid(rounded, least) ?? oneByOne(rounded, least);
  const lostUnits = totalAreaM2(rounded) - totalAreaM2(sound);
  return {
    polygons: sound.map((area) => [area.shell, ...area.holes].map(positionsOf)),
    notDrawnM2: totalAreaM2(flattened) + Math.max(0, lostUnits / scale),
  };
}

/** Where the areas together do not come right: as many of them as get along, the larger first. */
function oneByOne(areas: readonly AreaM[], least: number): AreaM[] {
  let kept: AreaM[] = [];
  for (const area of [...areas].sort((a, b) => areaM2(b) - areaM2(a))) {
    kept = soundOnGrid([...kept, area], least) ?? kept;
  }
  return kept;
}

function inUnits(area: AreaM, grid: SiteGrid): AreaM {
  return {
    shell: ringInUnits(anticlockwise(area.shell), grid),
    holes: area.holes
      .map((hole) => ringInUnits(clockwise(hole), grid))
      .filter((hole) => hole.length >= 6),
  };
}

function ringInUnits(ring: RingM, grid: SiteGrid): RingM {
  const flat: number[] = [];
  for (let i = 0; i < ring.length; i += 2) {
    const [lonDeg, latDeg] = grid.inverse([ring[i]!, ring[i + 1]!]);
    const x = Math.round(lonDeg * UNITS);
    const y = Math.round(latDeg * UNITS);
    if (x !== flat[flat.length - 2] || y !== flat[flat.length - 1]) flat.push(x, y);
  }
  while (
    flat.length > 2 &&
    flat[0] === flat[flat.length - 2] &&
    flat[1] === flat[flat.length - 1]
  ) {
    flat.length -= 2;
  }
  return Float64Array.from(flat);
}

/** False for what rounding has flattened or turned over. */
function isArea(area: AreaM): boolean {
  return vertexCount(area.shell) >= 3 && signedAreaM2(area.shell) > 0;
}

/** Square units to a square metre at the place of the largest area. */
function unitsPerM2(areas: readonly AreaM[], rounded: readonly AreaM[]): number {
  let largest = 0;
  for (const area of areas) largest = Math.max(largest, Math.abs(signedAreaM2(area.shell)));
  let units = 0;
  for (const area of rounded) units = Math.max(units, signedAreaM2(area.shell));
  return largest > 0 && units > 0 ? units / largest : 1;
}

function positionsOf(ring: RingM): Position[] {
  const positions: Position[] = [];
  for (let i = 0; i < ring.length; i += 2) positions.push([ring[i]! / UNITS, ring[i + 1]! / UNITS]);
  positions.push([...positions[0]!]);
  return positions;
}
