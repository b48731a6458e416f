import type { Reader } from "./reader.ts";
import { headOf } from "./text.ts";

/** GPX 1.0 and 1.1; its code is loaded when one is read. See docs/formats/gpx.md. */
export const gpxReader: Reader = {
  id: "gpx",
  label: "GPX",
  extensions: [".gpx"],
  bytesMax: "xmlBytesMax",
  looksLike: (bytes) => /<(?:\w+:)?gpx[\s>]/.test(headOf(bytes)),
  read: async (input, context) => (await import("./read-gpx.ts")).readGpx(input, context),
};
