import type { Geometry } from "flatgeobuf/lib/mjs/flat-geobuf/geometry.js";

/** Types by number (flatgeobuf, geometry-type): 1 to 7 are GeoJSON's; the rest curves and surfaces. */
const MULTI_POLYGON = 6;
const COLLECTION = 7;
const NESTING_MAX = 16;

/** What must be known of a geometry before the library may build it. */
export interface ShapeCheck {
  /** Number of the type that it holds; undefined where it holds nothing. */
  readonly otherType?: number;
  readonly isEmpty: boolean;
  /** Measures in the order of the positions. */
  readonly measures: readonly number[];
}

/**
 * Checks a geometry in its buffer: counts agree, parts end in order, and nothing is used twice.
 *
 * A buffer of tables can point to one part many times over, so that a few bytes stand for gigabytes;
 * the positions of all parts together must fit into the feature's own bytes. Throws an Error that
 * says what is wrong.
 */
export function checkShape(geometry: Geometry, headerType: number, bytes: number): ShapeCheck {
  let budget = bytes;
  const measures: number[] = [];
  let otherType: number | undefined;
  let isEmpty = true;
  const visit = (part: Geometry, type: number, depth: number): void => {
    budget -= 8;
    if (depth > NESTING_MAX) throw new Error(`collections are nested ${depth} deep`);
    // A damaged header may give no number at all.
    const isKnown = Number.isInteger(type) && type >= 1 && type <= COLLECTION;
    if (!isKnown) otherType ??= Number.isInteger(type) ? type : -1;
    const xy = part.xyArray();
    const [z, m, ends] = [part.zArray(), part.mArray(), part.endsArray()];
    const count = (xy?.length ?? 0) / 2;
    budget -= 16 * count;
    if (budget < 0) throw new Error("its parts stand for more positions than its bytes can hold");
    if (!Number.isInteger(count)) throw new Error("it has an odd number of coordinates");
    if (z !== null && z.length !== count) throw new Error("not every position has a height");
    if (m !== null && m.length !== count) throw new Error("not every position has a measure");
    let last = 0;
    for (const end of ends ?? []) {
      if (end < last || end > count) throw new Error(`a part ends at position ${end} of ${count}`);
      last = end;
    }
    if (count > 0) isEmpty = false;
    if (type === MULTI_POLYGON || type === COLLECTION) {
      for (let i = 0; i < part.partsLength(); i++) {
        const inner = part.parts(i);
        if (inner === null) throw new Error("a part is missing");
        visit(inner, type === MULTI_POLYGON ? 3 : inner.type(), depth + 1);
      }
    } else {
      if (xy === null && part.partsLength() === 0) return;
      if (xy === null) throw new Error("it has no coordinates");
      for (let i = 0; i < count; i++) measures.push(m?.[i] ?? Number.NaN);
    }
  };
  visit(geometry, headerType === 0 ? geometry.type() : headerType, 0);
  const hasMeasures = measures.some((measure) => !Number.isNaN(measure));
  return {
    ...(otherType === undefined ? {} : { otherType }),
    isEmpty,
    measures: hasMeasures ? measures : [],
  };
}
