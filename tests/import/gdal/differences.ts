/** Where we do not read what GDAL 3.6.2 reads: the difference (theirs against ours), and why. */
export type Differences = Readonly<Record<string, readonly [difference: string, why: string]>>;

const DAMAGED = "GDAL keeps the record as a null shape; we leave it out and say so";
const SHORT = "a line of one position or a ring of three is no shape; we leave it out and say so";
const TEXT_NUMBERS =
  "GDAL takes text or null for numbers or passes over them; RFC 7946 wants numbers";
const NOT_FEATURE = "GDAL guesses past a broken feature; we leave it out and say so";

export const OWN_DIFFERENCES: Differences = {
  "import/buggymultipoly.shp": ["layers against SHP_RECORD_DAMAGED", DAMAGED],
  "import/garden.gpkg": [
    "layer curves: feature 1 is left out",
    "GDAL turns the curve into chords when it writes GeoJSON; we leave curves out and say so",
  ],
  "import/garden.gpx": [
    "6 positions against 5",
    "GDAL keeps a segment of one position, which is no line; we leave it out and say so",
  ],
  "import/stringcoord.geojson": ["feature 1 is left out", TEXT_NUMBERS],
};

export const CORPUS_DIFFERENCES: Differences = {
  "kml/gdal/gx_track_without_when.kml": [
    "does not open against 1 layer(s)",
    "a gx:Track without times breaks libkml; its positions are read all the same",
  ],
  "kml/gdal/samples.kml": [
    "8 layer(s) against 7",
    "GDAL makes a layer of the outlines of ground overlays, which are pictures",
  ],
  "kml/togeojson/addresses.kml": ["feature 4 is left out", SHORT],
  "kml/togeojson/bad.kml": [
    "layers against COORDINATE_NOT_A_NUMBER",
    "GDAL takes words among coordinates for zeros",
  ],
  "kml/togeojson/ground_overlay.kml": [
    "layers against KML_NO_PLACEMARKS",
    "GDAL makes a polygon of a ground overlay, which is a picture",
  ],
  "kml/togeojson/ground_overlay_quad.kml": [
    "layers against KML_NO_PLACEMARKS",
    "GDAL makes a polygon of a ground overlay, which is a picture",
  ],
  "kml/togeojson/non_gx_multitrack.kml": [
    "feature 2: none against LineString",
    "a MultiTrack without its prefix is unknown to libkml; its track is read all the same",
  ],
  "kml/togeojson/twopoints.kml": [
    "1 features against 2",
    "libkml reads the first Placemark where there is no Document; both are shapes",
  ],
  "shp/gdal/buggymultiline.shp": ["layers against SHP_RECORD_DAMAGED", DAMAGED],
  "shp/gdal/buggymultipoint.shp": ["layers against SHP_RECORD_DAMAGED", DAMAGED],
  "shp/gdal/buggymultipoly.shp": ["layers against SHP_RECORD_DAMAGED", DAMAGED],
  "shp/gdal/buggymultipoly2.shp": ["layers against SHP_RECORD_DAMAGED", DAMAGED],
  "shp/gdal/buggypoint.shp": [
    "none against Point",
    "GDAL goes by the .shx, which gives a wrong length; the .shp itself is sound",
  ],
  "shp/gdal/pointnan.shp": [
    "feature 2 is left out",
    "GDAL keeps a point without coordinates (NaN); we leave it out and say so",
  ],
  "shp/shapelib/3dpoints.shp": [
    "8 features against 22",
    "GDAL goes by .dbf and .shx, which are damaged; the .shp itself holds 22 sound records",
  ],
  "geojson-bad/gdal/feature_with_type_Topology_property.json": [
    "does not open against 1 layer(s)",
    "GDAL takes the file for TopoJSON because of a property's value",
  ],
  "geojson-bad/gdal/ogr_geojson_14.geojson": ["feature 1 is left out", NOT_FEATURE],
  "geojson-bad/geojsonhint/bad-duplicate-properties.geojson": [
    "layers against FEATURE_MALFORMED",
    NOT_FEATURE,
  ],
  "geojson-bad/geojsonhint/bad-polygonloop.geojson": [
    "layers against POSITION_MALFORMED",
    "its polygons nest their rings one level too deep or too shallow; GDAL keeps null shapes",
  ],
  "geojson-bad/geojsonhint/badcoordtype.geojson": [
    "layers against POSITION_MALFORMED",
    TEXT_NUMBERS,
  ],
  "geojson-bad/geojsonhint/false.geojson": ["layers against FEATURE_MALFORMED", NOT_FEATURE],
  "geojson-bad/geojsonhint/featurecollection-type-case.geojson": [
    "layers against NOT_GEOJSON",
    "RFC 7946 (1.4): names of types are case-sensitive; the message says what they are",
  ],
  "geojson-bad/geojsonhint/multiple_problems.geojson": ["feature 1 is left out", NOT_FEATURE],
  "geojson-bad/geojsonhint/nofeaturetype.geojson": [
    "layers against FEATURE_MALFORMED",
    NOT_FEATURE,
  ],
  "geojson-bad/geojsonhint/point-labeled-as-a-multipolygon.geojson": [
    "layers against FEATURE_MALFORMED",
    NOT_FEATURE,
  ],
  "geojson-bad/geojsonhint/short-line.geojson": ["layers against TOO_FEW_POSITIONS", SHORT],
  "geojson-bad/geojsonhint/short-multilinestring.geojson": [
    "layers against TOO_FEW_POSITIONS",
    SHORT,
  ],
  "geojson-bad/geojsonhint/stringcoord.geojson": ["feature 1 is left out", TEXT_NUMBERS],
  "geojson-bad/turf/boolean-valid-false-GeometryCollection_malformed-geometry-in-collection.geojson":
    ["layers against POSITION_MALFORMED", NOT_FEATURE],
  "geojson-bad/turf/boolean-valid-false-GeometryCollection_no-type-in-nested-geometry.geojson": [
    "layers against FEATURE_MALFORMED",
    NOT_FEATURE,
  ],
  "geojson-bad/turf/boolean-valid-false-GeometryCollection_non-geometry-in-collection.geojson": [
    "layers against FEATURE_MALFORMED",
    NOT_FEATURE,
  ],
  "geojson-bad/turf/boolean-valid-false-MultiPoint_multipoint.geojson": [
    "layers against POSITION_MALFORMED",
    NOT_FEATURE,
  ],
  "geojson-bad/turf/boolean-valid-false-MultiPolygon_not-enough-coords.geojson": [
    "layers against TOO_FEW_POSITIONS",
    SHORT,
  ],
  "geojson-bad/turf/boolean-valid-false-Point_point.geojson": [
    "layers against POSITION_MALFORMED",
    NOT_FEATURE,
  ],
  "geojson-bad/turf/boolean-valid-false-Polygon_not-enough-coords.geojson": [
    "layers against TOO_FEW_POSITIONS",
    SHORT,
  ],
};
