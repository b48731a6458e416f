import type { Element } from "@xmldom/xmldom";
import type { InputFile, RawFeature, RawLayer } from "../model/features.ts";
import { done, failed, type Outcome } from "../model/finding.ts";
import { featureFault } from "./geojson-check.ts";
import { childElements, childText, localName } from "./kml-clean.ts";
import { readPlacemark } from "./kml-placemark.ts";
import { fieldsOf, reportNullGeometries, splitCollection } from "./members.ts";
import { firstUnsound } from "./positions.ts";
import { FindingList, inputProblem, type Reader, type ReadLimits, stemOf } from "./reader.ts";
import { headOf } from "./text.ts";
import { parseXml } from "./xml.ts";
import { isZip, unzip, zipNames } from "./zip.ts";

/** Things in a KML file that hold no shapes of the site. */
const NOT_READ = new Set([
  "GroundOverlay",
  "ScreenOverlay",
  "PhotoOverlay",
  "NetworkLink",
  "Tour",
  "Model",
]);

interface FolderOfPlacemarks {
  readonly path: string;
  readonly placemarks: Element[];
}

interface Walk {
  readonly folders: FolderOfPlacemarks[];
  readonly skipped: Map<string, number>;
}

/** Collects Placemarks by the folder that holds them, in file order. */
function walk(container: Element, path: readonly string[], stem: string, result: Walk): void {
  const here: FolderOfPlacemarks = { path: path.join("/") || stem, placemarks: [] };
  const place = result.folders.length;
  let unnamed = 0;
  for (const child of childElements(container)) {
    const name = localName(child);
    if (name === "Placemark") {
      here.placemarks.push(child);
      for (const part of childElements(child)) {
        if (localName(part) === "Model") count(result.skipped, "Model");
      }
    } else if (name === "Folder" || name === "Document") {
      const title = childText(child, "name") || `folder ${++unnamed}`;
      walk(child, [...path, title], stem, result);
    } else if (NOT_READ.has(name)) {
      count(result.skipped, name);
    }
  }
  if (here.placemarks.length > 0) result.folders.splice(place, 0, here);
}

function count(counts: Map<string, number>, name: string): void {
  counts.set(name, (counts.get(name) ?? 0) + 1);
}

function layerOf(file: string, folder: FolderOfPlacemarks, findings: FindingList): RawLayer {
  const layer = folder.path;
  const features: RawFeature[] = [];
  for (const [index, placemark] of folder.placemarks.entries()) {
    const raw = readPlacemark(placemark, index + 1);
    const fault = faultOf(raw);
    if (fault !== undefined) {
      findings.add({
        code: fault.code,
        severity: fault.code === "TOO_FEW_POSITIONS" ? "warning" : "error",
        layer,
        feature: String(raw.properties.name ?? `#${raw.number}`),
        message: `placemark ${raw.number} is left out: ${fault.message}`,
        remedy: "Correct its <coordinates> in the file, or draw it again.",
      });
      continue;
    }
    for (const member of splitCollection(raw, findings, layer)) features.push(member);
  }
  reportNullGeometries(features, findings, layer);
  return {
    file,
    format: "kml",
    layer,
    features,
    featuresInFile: folder.placemarks.length,
    fields: fieldsOf(features),
    crs: { kind: "wgs84", from: "KML" },
  };
}

function faultOf(raw: RawFeature): { code: string; message: string } | undefined {
  if (raw.geometry === null) return undefined;
  const unsound = firstUnsound(raw.geometry);
  if (unsound !== undefined) {
    return {
      code: "COORDINATE_NOT_A_NUMBER",
      message: `position ${unsound.place} is not two or three numbers parted by commas`,
    };
  }
  return featureFault({ type: "Feature", properties: {}, geometry: raw.geometry });
}

/** The document that a KMZ archive shows: `doc.kml`, else its first KML file. */
function unpacked(input: InputFile, limits: ReadLimits): Outcome<Uint8Array> {
  if (!isZip(input.bytes)) return done(input.bytes);
  const names = zipNames(input.bytes).filter((name) => /\.kml$/i.test(name));
  const name = names.find((entry) => /(^|\/)doc\.kml$/i.test(entry)) ?? names[0];
  if (name === undefined) {
    return failed(
      inputProblem(
        input.name,
        "ZIP_WITHOUT_LAYERS",
        "the archive holds no KML file",
        "Give a KMZ with a doc.kml in it, or the KML file itself.",
      ),
    );
  }
  const entries = unzip(input.name, input.bytes, limits, (entry) => entry === name);
  return entries.ok ? done(entries.value.get(name) ?? new Uint8Array()) : entries;
}

function readKml(input: InputFile, limits: ReadLimits): Outcome<RawLayer[]> {
  const file = input.name;
  const bytes = unpacked(input, limits);
  if (!bytes.ok) return bytes;
  const parsed = parseXml(file, bytes.value, limits);
  if (!parsed.ok) return parsed;
  const root = parsed.value.documentElement!;
  const rootName = localName(root);
  if (!["kml", "Document", "Folder", "Placemark"].includes(rootName)) {
    return failed(
      inputProblem(
        file,
        "NOT_KML",
        `XML, but not KML: its root element is <${root.nodeName}>`,
        "Export the shapes as KML or GeoJSON.",
      ),
    );
  }
  const findings = new FindingList(file);
  const result = placemarksOf(root, stemOf(file));
  for (const [name, number] of result.skipped) {
    findings.add({
      code: "KML_ELEMENT_NOT_READ",
      severity: "info",
      message: `${number} <${name}> element(s) hold no shapes of the site and are not read`,
      remedy:
        name === "NetworkLink"
          ? "Save what it points to as a KML file of its own, and give that."
          : "Draw the shapes as polygons, lines or points if they matter.",
    });
  }
  if (result.folders.length === 0) {
    return failed(
      inputProblem(
        file,
        "KML_NO_PLACEMARKS",
        "the KML file holds no placemarks, so there are no shapes in it",
        "Save the folder that holds the shapes, not a view or a link to it.",
      ),
      [...parsed.findings, ...findings.all],
    );
  }
  const layers = result.folders.map((folder) => layerOf(file, folder, findings));
  const all = [...parsed.findings, ...findings.all];
  const firstFault = findings.all.find(({ feature }) => feature !== undefined);
  if (firstFault !== undefined && layers.every((layer) => layer.features.length === 0)) {
    return failed(
      inputProblem(
        file,
        firstFault.code,
        `none of its placemarks can be used; ${firstFault.message}`,
        firstFault.remedy,
      ),
      all,
    );
  }
  return done(layers, all);
}

/** The outermost Document or Folder gives no folder name of its own, unless nothing else does. */
function placemarksOf(root: Element, stem: string): Walk {
  const result: Walk = { folders: [], skipped: new Map() };
  if (localName(root) === "Placemark") {
    result.folders.push({ path: stem, placemarks: [root] });
    return result;
  }
  const tops = childElements(root).filter((child) => localName(child) === "Document");
  const container = localName(root) === "kml" && tops.length === 1 ? tops[0]! : root;
  const title = localName(container) === "kml" ? "" : childText(container, "name");
  walk(container, [], title || stem, result);
  if (container !== root) {
    // Placemarks beside the one Document break the schema, but they are shapes all the same.
    const beside = childElements(root).filter((child) => localName(child) === "Placemark");
    if (beside.length > 0) result.folders.push({ path: stem, placemarks: beside });
    const folders = childElements(root).filter((child) => localName(child) === "Folder");
    for (const folder of folders) {
      walk(folder, [childText(folder, "name") || "folder"], stem, result);
    }
  }
  return result;
}

/** KML 2.2 and 2.3, plain or in a KMZ archive. See docs/formats/kml.md. */
export const kmlReader: Reader = {
  id: "kml",
  label: "KML",
  extensions: [".kml", ".kmz"],
  looksLike: (bytes) =>
    isZip(bytes)
      ? zipNames(bytes).some((name) => /\.kml$/i.test(name))
      : /<(?:\w+:)?kml[\s>]/.test(headOf(bytes)),
  read: readKml,
};
