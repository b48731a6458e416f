/** Which inputs are rasters of heights: told by the first bytes, so that no reader need be loaded. */
export type RasterKind = "geotiff" | "esri-grid";

/** The kind of raster that the bytes begin like; undefined where they are none. */
export function rasterKind(bytes: Uint8Array): RasterKind | undefined {
  const [a, b, c, d] = bytes;
  const little = a === 0x49 && b === 0x49 && (c === 42 || c === 43) && d === 0;
  const big = a === 0x4d && b === 0x4d && c === 0 && (d === 42 || d === 43);
  if (little || big) return "geotiff";
  return looksLikeGrid(bytes) ? "esri-grid" : undefined;
}

function looksLikeGrid(bytes: Uint8Array): boolean {
  const head = String.fromCharCode(...bytes.subarray(0, 64)).toLowerCase();
  return /^(?:\u00ef\u00bb\u00bf)?\s*(?:ncols|nrows)\s+\d/.test(head);
}
