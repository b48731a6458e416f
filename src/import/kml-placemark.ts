import toGeoJson from "@mapbox/togeojson";
import type { Element } from "@xmldom/xmldom";
import type { Geometry, Position } from "geojson";
import type { RawFeature } from "../model/features.ts";
import { childText, cleanPlacemark } from "./kml-clean.ts";

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

/** The geometry without empty lines and points; null where nothing is left. */
function withoutEmpty(geometry: Geometry): Geometry | null {
  switch (geometry.type) {
    case "Point":
      return isEmptyPosition(geometry.coordinates) ? null : geometry;
    case "LineString":
      return geometry.coordinates.every(isEmptyPosition) ? null : geometry;
    case "Polygon": {
      const rings = geometry.coordinates.filter((ring) => !ring.every(isEmptyPosition));
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

/** One Placemark as a feature; its geometry is null where it has none that can be read. */
export function readPlacemark(placemark: Element, number: number): RawFeature {
  const feature = toGeoJson.kml(cleanPlacemark(placemark)).features[0];
  if (feature === undefined) {
    const id = placemark.getAttribute("id");
    const name = childText(placemark, "name");
    const properties = name === "" ? {} : { name };
    return { number, ...(id ? { id } : {}), geometry: null, properties };
  }
  const { coordTimes: _times, ...properties } = feature.properties ?? {};
  const geometry = withoutEmpty(feature.geometry as Geometry);
  return {
    number,
    ...(feature.id === undefined ? {} : { id: String(feature.id) }),
    geometry: geometry === null ? null : gathered(geometry),
    properties,
  };
}
