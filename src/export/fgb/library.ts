/** The parts of the flatgeobuf library that write; loaded when such a file is written. */
export { Builder } from "flatbuffers";
export { magicbytes } from "flatgeobuf/lib/mjs/constants.js";
export { Column } from "flatgeobuf/lib/mjs/flat-geobuf/column.js";
export { ColumnType } from "flatgeobuf/lib/mjs/flat-geobuf/column-type.js";
export { Crs } from "flatgeobuf/lib/mjs/flat-geobuf/crs.js";
export { GeometryType } from "flatgeobuf/lib/mjs/flat-geobuf/geometry-type.js";
export { Header } from "flatgeobuf/lib/mjs/flat-geobuf/header.js";
export { buildFeature } from "flatgeobuf/lib/mjs/generic/feature.js";
export { parseGeometry } from "flatgeobuf/lib/mjs/geojson/geometry.js";
