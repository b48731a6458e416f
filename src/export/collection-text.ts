import { jsonText } from "../escape/json.ts";

/** A FeatureCollection, one feature a line, so that two plans can be compared line by line. */
export function collectionText(features: readonly unknown[]): string {
  const lines = features.map((one) => jsonText(one));
  return `{"type":"FeatureCollection","features":[\n${lines.join(",\n")}\n]}\n`;
}
