/** The parts of the flatgeobuf library that are used; loaded when the first such file is read. */
export { ByteBuffer } from "flatbuffers";
export { Feature } from "flatgeobuf/lib/mjs/flat-geobuf/feature.js";
export { GeometryType } from "flatgeobuf/lib/mjs/flat-geobuf/geometry-type.js";
export { Header } from "flatgeobuf/lib/mjs/flat-geobuf/header.js";
export { parseProperties } from "flatgeobuf/lib/mjs/generic/feature.js";
export { fromGeometry } from "flatgeobuf/lib/mjs/geojson/geometry.js";
export { fromByteBuffer as headerMeta } from "flatgeobuf/lib/mjs/header-meta.js";
