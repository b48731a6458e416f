/** From what is on the map to what an edit is about. */
import type { SourceRef } from "../../model/finding.ts";
import type { RingsM, Target } from "./edit.ts";

/** Names of the layer of drawn things, and of the lists in which a site file draws other things. */
const LISTS = /^(run_ground|edges)\[(\d+)\]$/;

/**
 * What an edit of something on the site is about; undefined where nothing can be said of it, as of
 * what comes from no feature.
 *
 * @param source where it comes from
 * @param siteFile name of the site file
 * @param hole its areas, where it is a hole in a lawn
 */
export function targetOf(
  source: SourceRef,
  siteFile: string,
  hole?: readonly RingsM[],
): Target | undefined {
  if (hole) return { in: "hole", areas: hole };
  const { file, layer, number, feature } = source;
  if (number === undefined) return undefined;
  if (file !== siteFile) {
    if (file === undefined || layer === undefined) return undefined;
    return { in: "feature", file, layer, number };
  }
  if (layer === "things") return { in: "things", number };
  const list = LISTS.exec(feature ?? "")?.[1];
  return list === undefined ? undefined : { in: list as "run_ground" | "edges", number };
}
