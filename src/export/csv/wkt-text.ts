import type { Geometry, Position } from "geojson";
import { decimalText } from "../exchange/decimals.ts";

/** A geometry as well-known text (OGC 06-103r4, section 7), in two dimensions. */
export function wktText(geometry: Geometry, decimals: number): string {
  const at = ([x, y]: Position) => `${decimalText(x!, decimals)} ${decimalText(y!, decimals)}`;
  const list = (parts: readonly string[]) => `(${parts.join(",")})`;
  const line = (positions: readonly Position[]) => list(positions.map(at));
  const polygon = (rings: readonly Position[][]) => list(rings.map(line));
  switch (geometry.type) {
    case "Point":
      return `POINT(${at(geometry.coordinates)})`;
    case "LineString":
      return `LINESTRING${line(geometry.coordinates)}`;
    case "Polygon":
      return `POLYGON${polygon(geometry.coordinates)}`;
    case "MultiPoint":
      return `MULTIPOINT${list(geometry.coordinates.map((one) => `(${at(one)})`))}`;
    case "MultiLineString":
      return `MULTILINESTRING${list(geometry.coordinates.map(line))}`;
    case "MultiPolygon":
      return `MULTIPOLYGON${list(geometry.coordinates.map(polygon))}`;
    default:
      return `GEOMETRYCOLLECTION${list(geometry.geometries.map((one) => wktText(one, decimals)))}`;
  }
}
