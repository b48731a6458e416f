import toGeoJson from "@mapbox/togeojson";
import type { Element } from "@xmldom/xmldom";
import type { Geometry, Position } from "geojson";
import type { RawFeature } from "../model/features.ts";
import { cleanPlacemark } from "./kml-clean.ts";
import { iconOf } from "./kml-style.ts";
import type { KmlContent } from "./kml-walk.ts";

/** Members of one simple type as one Multi geometry; anything else as it is. */
function gathered(geometry: Geometry): Geometry {
  if (geometry.type !== "GeometryCollection") return geometry;
  const members = geometry.geometries;
  const first = members[0];
  if (first === undefined || members.some((member) => member.type !== first.type)) return geometry;
  if (first.type === "Polygon" || first.type === "LineString" || first.type === "Point") {
    const coordinates = members.map((member) => (member as typeof first).coordinates);
    return { type: `Multi${first.type}`, coordinates } as Geometry;
  }
  return geometry;
}

/** True for `<coordinates/>`: the converter gives one position of NaN. */
function isEmptyPosition(position: Position): boolean {
  return position.length === 1 && Number.isNaN(position[0]);
}

/** Longitude, latitude and, where there is one, height; further numbers have no meaning. */
function plainPosition(position: Position): Position {
  if (position.length > 3 || (position.length === 3 && !Number.isFinite(position[2]))) {
    return Number.isFinite(position[2]) ? position.slice(0, 3) : position.slice(0, 2);
  }
  return position;
}

/** The geometry without empty lines and points; null where nothing is left. */
function withoutEmpty(geometry: Geometry): Geometry | null {
  const line = (positions: Position[]): Position[] =>
    positions.filter((position) => !isEmptyPosition(position)).map(plainPosition);
  switch (geometry.type) {
    case "Point":
      return isEmptyPosition(geometry.coordinates)
        ? null
        : { ...geometry, coordinates: plainPosition(geometry.coordinates) };
    case "LineString": {
      const coordinates = line(geometry.coordinates);
      return coordinates.length === 0 ? null : { ...geometry, coordinates };
    }
    case "Polygon": {
      const rings = geometry.coordinates.map(line).filter((ring) => ring.length > 0);
      return rings.length === 0 ? null : { ...geometry, coordinates: rings };
    }
    case "GeometryCollection": {
      const members = geometry.geometries.map(withoutEmpty).filter((member) => member !== null);
      return members.length === 0 ? null : { ...geometry, geometries: members };
    }
    default:
      return geometry;
  }
}

/** The altitude mode that the shapes state; undefined where none does (then: clamped to the ground). */
function altitudeModeOf(placemark: Element): string | undefined {
  const modes = placemark.getElementsByTagNameNS("*", "altitudeMode");
  return modes.item(0)?.textContent?.trim() || undefined;
}

/** Name, description and extended data of a Placemark without shape, which the converter passes over. */
function shapeless(placemark: Element): Element {
  const holder = cleanPlacemark(placemark);
  const document = holder.ownerDocument!;
  const point = document.createElement("Point");
  const coordinates = document.createElement("coordinates");
  coordinates.appendChild(document.createTextNode("0,0"));
  point.appendChild(coordinates);
  holder.firstChild!.appendChild(point);
  return holder;
}

/** One Placemark as a feature; its geometry is null where it has none that can be read. */
export function readPlacemark(
  placemark: Element,
  number: number,
  { styles, schemas }: Pick<KmlContent, "styles" | "schemas">,
): RawFeature {
  const own = styles.stylesOf(placemark);
  const read = toGeoJson.kml(cleanPlacemark(placemark, own)).features[0];
  const feature = read ?? toGeoJson.kml(shapeless(placemark)).features[0]!;
  const geometry = read === undefined ? null : withoutEmpty(read.geometry as Geometry);
  const properties: Record<string, unknown> = schemas.typed(placemark, feature.properties ?? {});
  const icon = iconOf(own);
  if (icon !== undefined) properties.icon ??= icon;
  const altitudeMode = altitudeModeOf(placemark);
  if (altitudeMode !== undefined) properties.altitudeMode ??= altitudeMode;
  return {
    number,
    ...(feature.id === undefined ? {} : { id: String(feature.id) }),
    geometry: geometry === null ? null : gathered(geometry),
    properties,
  };
}
