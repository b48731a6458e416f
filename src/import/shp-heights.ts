/**
 * Heights and measures of one shapefile record, which the reading library passes over.
 * Source: ESRI Shapefile Technical Description, July 1998, pages 11 to 20.
 */
export interface ExtraValues {
  /** One for each position in file order; NaN where the file has none for it. */
  readonly heights?: Float64Array;
  readonly measures?: Float64Array;
  /** True where a type with heights has too few bytes to hold them. */
  readonly isShort: boolean;
}

/** Anything smaller stands for "no data" (page 2). */
const NO_DATA = -1e38;
const Z_TYPES = 10;
const M_TYPES = 20;
/** Minimum and maximum stand before a list of values. */
const RANGE_BYTES = 16;

function valuesAt(
  view: DataView,
  at: number,
  count: number,
  end: number,
): Float64Array | undefined {
  if (at + 8 * count > end) return undefined;
  const values = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const value = view.getFloat64(at + 8 * i, true);
    values[i] = value < NO_DATA ? Number.NaN : value;
  }
  return values;
}

const hasAny = (values: Float64Array | undefined): values is Float64Array =>
  values?.some((value) => !Number.isNaN(value)) === true;

/** Z and M of the record whose content lies from `offset` to `offset + bytes`. */
export function extraValues(view: DataView, offset: number, bytes: number): ExtraValues {
  const type = view.getInt32(offset, true);
  const family = Math.floor(type / 10) * 10;
  if (family !== Z_TYPES && family !== M_TYPES) return { isShort: false };
  const end = offset + bytes;
  const base = type % 10;
  const isPoint = base === 1;
  const count = isPoint ? 1 : view.getInt32(offset + (base === 8 ? 36 : 40), true);
  const parts = base === 8 || isPoint ? 0 : view.getInt32(offset + 36, true);
  const positions = offset + (isPoint ? 4 : base === 8 ? 40 : 44 + 4 * parts);
  const range = isPoint ? 0 : RANGE_BYTES;
  let at = positions + 16 * count + range;
  const heights = family === Z_TYPES ? valuesAt(view, at, count, end) : undefined;
  const isShort = family === Z_TYPES && heights === undefined;
  if (family === Z_TYPES) at += 8 * count + range;
  // Measures are optional in every type but those made for them.
  const measures = valuesAt(view, at, count, end);
  return {
    ...(hasAny(heights) ? { heights } : {}),
    ...(hasAny(measures) ? { measures } : {}),
    isShort,
  };
}
