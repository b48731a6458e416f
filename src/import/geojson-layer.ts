import type { Feature, Geometry } from "geojson";
import type { RawFeature, RawLayer } from "../model/features.ts";
import { done, failed, type Outcome } from "../model/finding.ts";
import { featureFault } from "./geojson-check.ts";
import { fieldsOf, reportNullGeometries, splitCollection } from "./members.ts";
import { PositionStore } from "./position-store.ts";
import { firstUnsound, positionCount } from "./positions.ts";
import { type FindingList, inputProblem } from "./reader.ts";

export const REMEDY_EXPORT =
  "Export the layer as GeoJSON (RFC 7946) from the program that made it.";

function asRaw(feature: Feature<Geometry | null>, number: number): RawFeature {
  const { id, properties } = feature;
  const isRecord = properties !== null && typeof properties === "object";
  const geometry = feature.geometry;
  return {
    number,
    ...(id === undefined || id === null || typeof id === "object" ? {} : { id: String(id) }),
    geometry: geometry !== null && positionCount(geometry) === 0 ? null : geometry,
    properties: isRecord && !Array.isArray(properties) ? properties : {},
  };
}

/**
 * One layer of values that should be GeoJSON features. Broken ones are left out with a finding each;
 * where none is left, the file is refused with the first fault.
 *
 * @param held the values in file order; undefined stands for one that has been told of already
 */
export function layerOfFeatures(
  about: Pick<RawLayer, "file" | "format" | "layer" | "crs">,
  held: Iterable<unknown>,
  findings: FindingList,
): Outcome<RawLayer[]> {
  const { file, layer } = about;
  const features: RawFeature[] = [];
  const store = new PositionStore();
  let number = 0;
  for (const value of held) {
    number++;
    if (value === undefined) continue;
    const fault = featureFault(value) ?? unsoundFault(value as Feature);
    if (fault !== undefined) {
      findings.add({
        code: fault.code,
        // A ring of two corners encloses nothing: nothing of the site is lost with it.
        severity: fault.code === "TOO_FEW_POSITIONS" ? "warning" : "error",
        layer,
        feature: `#${number}`,
        message: `feature ${number} is left out: ${fault.message}`,
        remedy: "Correct or remove that feature in the file.",
      });
      continue;
    }
    const raw = asRaw(value as Feature<Geometry | null>, number);
    for (const member of splitCollection(raw, findings, layer)) {
      features.push(store.packed(member));
    }
  }
  const firstFault = findings.all.find(({ feature }) => feature !== undefined);
  if (features.length === 0 && firstFault !== undefined) {
    return failed(
      inputProblem(
        file,
        firstFault.code,
        `none of its ${number} features can be used; ${firstFault.message}`,
        REMEDY_EXPORT,
        layer,
      ),
      findings.all,
    );
  }
  reportNullGeometries(features, findings, layer);
  const fields = fieldsOf(features);
  return done([{ ...about, features, featuresInFile: number, fields }], findings.all);
}

/** A value as it stands in the file, cut short. */
function shown(value: unknown): string {
  const text = JSON.stringify(value) ?? String(value);
  return text.length > 40 ? `${text.slice(0, 40)}…` : text;
}

function unsoundFault(feature: Feature): { code: string; message: string } | undefined {
  if (feature.geometry === null) return undefined;
  const unsound = firstUnsound(feature.geometry);
  if (unsound === undefined) return undefined;
  return {
    code: "COORDINATE_NOT_A_NUMBER",
    message: `position ${unsound.place} is [${unsound.position.slice(0, 3).map(shown).join(", ")}]`,
  };
}
