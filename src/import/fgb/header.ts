import type { HeaderMeta } from "flatgeobuf/lib/mjs/header-meta.js";
import type { CrsDeclaration } from "../../model/features.ts";

/** The reference system that a header names: its code (EPSG where no other is named), else its WKT. */
export function crsOf(crs: HeaderMeta["crs"]): CrsDeclaration {
  const from = "FlatGeobuf header";
  if (crs === null) return { kind: "none" };
  const isEpsg = !crs.org || crs.org.toUpperCase() === "EPSG";
  if (isEpsg && crs.code > 0) return { kind: "epsg", code: crs.code, from };
  if (crs.wkt) return { kind: "definition", text: crs.wkt, from };
  return { kind: "none" };
}

/** Bytes of one node of the index: a box of four numbers and an offset. */
const NODE_BYTES = 40;

/** Bytes of the spatial index, which is passed over; 0 where there is none. */
export function indexBytes(features: number, nodeSize: number): number {
  if (nodeSize === 0 || features === 0) return 0;
  const perNode = Math.max(nodeSize, 2);
  let nodes = features;
  for (let level = features; level !== 1; ) {
    level = Math.ceil(level / perNode);
    nodes += level;
  }
  return (features === 1 ? 2 : nodes) * NODE_BYTES;
}
