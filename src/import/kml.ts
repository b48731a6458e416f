import type { Reader } from "./reader.ts";
import { headOf } from "./text.ts";
import { isZip, zipNames } from "./zip.ts";

/** KML 2.2 and 2.3, plain or in a KMZ archive; its code is loaded when one is read. See docs/formats/kml.md. */
export const kmlReader: Reader = {
  id: "kml",
  label: "KML",
  extensions: [".kml", ".kmz"],
  bytesMax: "xmlBytesMax",
  looksLike: (bytes) =>
    isZip(bytes)
      ? zipNames(bytes).some((name) => /\.kml$/i.test(name))
      : /<(?:\w+:)?kml[\s>]/.test(headOf(bytes)),
  read: async (input, context) => (await import("./read-kml.ts")).readKml(input, context),
};
