/** Entities of the drawing (DXF reference, "ENTITIES Section"). */
import type { Position } from "geojson";
import { dxfData, dxfText } from "../../escape/dxf.ts";
import { PLAN_APPLICATION } from "../../import/dxf/plan-data.ts";
import { linesOf } from "../../model/lines-of.ts";
import { type DrawnFeature, type Properties, polygonsOf } from "../exchange/drawn-plan.ts";
import type { Fill } from "../style/plan-style.ts";
import type { Groups } from "./groups.ts";
import { METRES_PER_MM } from "./layers.ts";

/** Group 440: the mark of a given transparency, and in its last byte how opaque. */
const TRANSPARENCY = 0x0200_0000;
/** Boundary of a hatch: a polyline; the outer one says so too (group 92). */
const POLYLINE_PATH = 2;
const OUTER_PATH = 1;

export class EntityWriter {
  readonly #out: Groups;
  readonly #owner: string;

  constructor(out: Groups, owner: string) {
    this.#out = out;
    this.#owner = owner;
  }

  #begin(type: string, layer: string): Groups {
    const out = this.#out;
    return out.all(0, type, 5, out.newHandle(), 330, this.#owner, 100, "AcDbEntity", 8, layer);
  }

  #data(properties: Properties): void {
    const held = Object.entries(properties).filter(([, value]) => value !== null);
    this.#out.put(1001, PLAN_APPLICATION);
    for (const piece of dxfData(Object.fromEntries(held))) this.#out.put(1000, piece);
  }

  /** The feature's shape with its attributes; false where it has none that can be drawn. */
  feature(feature: DrawnFeature, layer: string, fill: Fill | undefined): boolean {
    const { geometry, properties, kind } = feature;
    if (geometry === null) return false;
    if (geometry.type === "Point") {
      const [x, y] = geometry.coordinates;
      this.#begin("POINT", layer).all(100, "AcDbPoint", 10, x!, 20, y!, 30, 0);
      this.#data(properties);
      return true;
    }
    const rings = linesOf(geometry);
    if (rings.length === 1 && (geometry.type === "LineString" || kind === "exclusion-loop")) {
      this.#polyline(rings[0]!, layer);
      this.#data(properties);
      return true;
    }
    if (polygonsOf(geometry).length === 0) return false;
    this.#hatch(polygonsOf(geometry), layer, fill);
    this.#data(properties);
    return true;
  }

  #polyline(positions: readonly Position[], layer: string): void {
    const isClosed = isRing(positions);
    const points = isClosed ? positions.slice(0, -1) : positions;
    const out = this.#begin("LWPOLYLINE", layer);
    out.all(100, "AcDbPolyline", 90, points.length, 70, isClosed ? 1 : 0, 43, 0);
    for (const [x, y] of points) out.all(10, x!, 20, y!);
  }

  #hatch(polygons: readonly Position[][][], layer: string, fill: Fill | undefined): void {
    const hatch = fill?.hatch;
    const out = this.#begin("HATCH", layer);
    if (hatch === undefined) out.put(440, TRANSPARENCY | Math.round(255 * (fill?.opacity ?? 1)));
    out.all(100, "AcDbHatch", 10, 0, 20, 0, 30, 0, 210, 0, 220, 0, 230, 1);
    out.all(2, hatch ? "PEGLINE" : "SOLID", 70, hatch ? 0 : 1, 71, 0);
    const paths = polygons.flatMap((rings) => rings.map((ring, i) => ({ ring, isOuter: i === 0 })));
    out.put(91, paths.length);
    for (const { ring, isOuter } of paths) {
      const points = isRing(ring) ? ring.slice(0, -1) : ring;
      out.all(92, POLYLINE_PATH | (isOuter ? OUTER_PATH : 0), 72, 0, 73, 1, 93, points.length);
      for (const [x, y] of points) out.all(10, x!, 20, y!);
      out.put(97, 0);
    }
    out.all(75, 0, 76, hatch ? 0 : 1);
    if (hatch) {
      out.all(52, 0, 41, 1, 77, 0, 78, hatch.anglesDeg.length);
      for (const angleDeg of hatch.anglesDeg) {
        const [c, s] = [Math.cos((angleDeg * Math.PI) / 180), Math.sin((angleDeg * Math.PI) / 180)];
        const spacingM = hatch.spacingMm * METRES_PER_MM;
        out.all(53, angleDeg, 43, 0, 44, 0, 45, -s * spacingM, 46, c * spacingM, 79, 0);
      }
    }
    out.put(98, 0);
  }

  /** Text that stands to the right of and above a place. */
  label(text: string, [x, y]: Position, heightM: number, layer: string): void {
    const [textX, textY] = [x! + heightM * 0.8, y! + heightM * 0.6];
    this.#begin("TEXT", layer).all(100, "AcDbText", 10, textX, 20, textY, 30, 0, 40, heightM);
    this.#out.all(1, dxfText(text), 100, "AcDbText");
  }
}

function isRing(positions: readonly Position[]): boolean {
  const [first, last] = [positions[0], positions.at(-1)];
  return positions.length > 3 && first?.[0] === last?.[0] && first?.[1] === last?.[1];
}
