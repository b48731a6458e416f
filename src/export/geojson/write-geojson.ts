/** The plan as GeoJSON (RFC 7946), as `plan.geojson` is: what another format held of it, written back. */
import { strToU8 } from "fflate";
import { collectionText } from "../collection-text.ts";
import type { DrawnPlan } from "../exchange/drawn-plan.ts";
import type { Written } from "../exchange/written.ts";

export function writeGeojson({ features }: DrawnPlan): Written {
  const text = collectionText(
    features.map(({ geometry, properties }) => ({ type: "Feature", geometry, properties })),
  );
  return {
    files: [{ name: "plan.geojson", bytes: strToU8(text) }],
    features: features.length,
    losses: [],
  };
}
