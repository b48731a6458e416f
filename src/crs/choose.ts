import type { CrsDeclaration, RawLayer } from "../model/features.ts";
import type { Finding } from "../model/finding.ts";
import { fitsDegrees, type RawRange } from "./plausible.ts";

/** `--crs` as it is given: a code, `EPSG:N`, a PROJ string or WKT. */
export function overrideDeclaration(override: number | string): CrsDeclaration {
  if (typeof override === "number") return { kind: "epsg", code: override, from: "--crs" };
  const code = /^\s*(?:EPSG:)?(\d+)\s*$/i.exec(override)?.[1];
  return code === undefined
    ? { kind: "definition", text: override, from: "--crs" }
    : { kind: "epsg", code: Number(code), from: "--crs" };
}

/** A layer with its range of coordinates; undefined range where it has none. */
export interface RangedLayer {
  readonly layer: RawLayer;
  readonly range: RawRange | undefined;
}

function kept(layer: RawLayer, why: string): Finding {
  return {
    code: "CRS_OVERRIDE_NOT_USED",
    severity: "info",
    file: layer.file,
    layer: layer.layer,
    message: `--crs is not applied to layer ${layer.layer}: ${why}`,
    remedy: "Nothing to do, if that is what you meant.",
  };
}

/** The system that the site file states for one input, in place of the input's own. */
function ofFile(layer: RawLayer, crs: number | string, findings: Finding[]): CrsDeclaration {
  if (layer.format === "kml") {
    findings.push(kept(layer, "KML is in degrees of WGS 84 by its own rule"));
    return layer.crs;
  }
  if (layer.crs.kind === "definition" || layer.crs.kind === "epsg") {
    findings.push({
      code: "CRS_OVERRIDDEN",
      severity: "warning",
      file: layer.file,
      layer: layer.layer,
      message: `the crs of the site file is used for layer ${layer.layer} in place of what its ${layer.crs.from} says`,
      remedy: "Leave crs out to use the file's own.",
    });
  }
  return { ...overrideDeclaration(crs), from: "the site file" } as CrsDeclaration;
}

/**
 * Which declaration holds for each layer: what is stated for its file (`byFile`), else `--crs`
 * where it is given, else the file's own. KML keeps its own always; so does GeoJSON whose
 * coordinates fit degrees in a site with others that do not.
 */
export function chooseDeclarations(
  ranged: readonly RangedLayer[],
  override: number | string | undefined,
  byFile: Readonly<Record<string, number | string>> = {},
): { declarations: CrsDeclaration[]; findings: Finding[] } {
  const findings: Finding[] = [];
  const own = (layer: RawLayer): CrsDeclaration =>
    Object.hasOwn(byFile, layer.file) ? ofFile(layer, byFile[layer.file]!, findings) : layer.crs;
  if (override === undefined) {
    return { declarations: ranged.map(({ layer }) => own(layer)), findings };
  }
  const forced = overrideDeclaration(override);
  const othersNeedIt = ranged.some(
    ({ layer, range }) =>
      layer.format !== "kml" && (layer.crs.kind === "none" || (range && !fitsDegrees(range))),
  );
  const declarations = ranged.map(({ layer, range }) => {
    if (Object.hasOwn(byFile, layer.file)) return own(layer);
    if (layer.format === "kml") {
      findings.push(kept(layer, "KML is in degrees of WGS 84 by its own rule"));
      return layer.crs;
    }
    if (layer.crs.kind === "wgs84" && range && fitsDegrees(range) && othersNeedIt) {
      findings.push(kept(layer, "its coordinates fit the degrees of WGS 84 that its format says"));
      return layer.crs;
    }
    if (layer.crs.kind === "definition" || layer.crs.kind === "epsg") {
      findings.push({
        code: "CRS_OVERRIDDEN",
        severity: "warning",
        file: layer.file,
        layer: layer.layer,
        message: `--crs is used for layer ${layer.layer} in place of what its ${layer.crs.from} says`,
        remedy: "Leave --crs out to use the file's own.",
      });
    }
    return forced;
  });
  return { declarations, findings };
}
