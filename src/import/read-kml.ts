import type { Element } from "@xmldom/xmldom";
import type { InputFile, RawFeature, RawLayer } from "../model/features.ts";
import { done, type Finding, failed, type Outcome } from "../model/finding.ts";
import { featureFault } from "./geojson-check.ts";
import { localName } from "./kml-clean.ts";
import { readPlacemark } from "./kml-placemark.ts";
import { type FolderOfPlacemarks, type KmlContent, kmlContent } from "./kml-walk.ts";
import { type KmlFile, kmlFiles, pathOfLink } from "./kmz.ts";
import { fieldsOf, reportNullGeometries, splitCollection } from "./members.ts";
import { isUnsafeName, unsafeNameFinding } from "./names.ts";
import { firstUnsound } from "./positions.ts";
import { FindingList, inputProblem, type ReadContext, type ReadLimits, stemOf } from "./reader.ts";
import { parseXml } from "./xml.ts";

function layerOf(
  file: string,
  folder: FolderOfPlacemarks,
  content: KmlContent,
  findings: FindingList,
): RawLayer {
  const layer = folder.path;
  const features: RawFeature[] = [];
  for (const [index, placemark] of folder.placemarks.entries()) {
    const raw = readPlacemark(placemark, index + 1, content);
    // Member by member, so that a broken one does not take the others with it.
    for (const member of splitCollection(raw, findings, layer)) {
      const fault = faultOf(member);
      if (fault === undefined) {
        features.push(member);
        continue;
      }
      const which = member.part === undefined ? "" : `, shape ${member.part}`;
      findings.add({
        code: fault.code,
        severity: fault.code === "TOO_FEW_POSITIONS" ? "warning" : "error",
        layer,
        feature: String(raw.properties.name ?? `#${raw.number}`),
        message: `placemark ${raw.number}${which} is left out: ${fault.message}`,
        remedy: "Correct its <coordinates> in the file, or draw it again.",
      });
    }
  }
  if (folder.placemarks.some(hasUnsafeName)) findings.add(unsafeNameFinding(file, layer));
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

/** The converter would lose such a name without a word. */
function hasUnsafeName(placemark: Element): boolean {
  return ["Data", "SimpleData"].some((tag) =>
    [...placemark.getElementsByTagNameNS("*", tag)].some((data) =>
      isUnsafeName(data.getAttribute("name") ?? ""),
    ),
  );
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

/** A parsed document with its name in the archive. */
interface ReadFile {
  readonly name: string;
  readonly content: KmlContent;
}

function contentOf(
  input: InputFile,
  file: KmlFile,
  isFurther: boolean,
  limits: ReadLimits,
): Outcome<KmlContent> {
  const parsed = parseXml(input.name, file.bytes, limits);
  if (!parsed.ok) return parsed;
  const root = parsed.value.documentElement!;
  if (!["kml", "Document", "Folder", "Placemark"].includes(localName(root))) {
    return failed(
      inputProblem(
        input.name,
        "NOT_KML",
        `XML, but not KML: its root element is <${root.nodeName}>`,
        "Export the shapes as KML or GeoJSON.",
      ),
    );
  }
  const stem = isFurther ? stemOf(file.name) : stemOf(input.name);
  return done(kmlContent(parsed.value, stem, isFurther ? [stem] : []), parsed.findings);
}

/** All documents of the file: the main ones, and those of the archive that they link to. */
function readAll(input: InputFile, limits: ReadLimits, findings: FindingList): Outcome<ReadFile[]> {
  const files = kmlFiles(input, limits);
  if (!files.ok) return files;
  const { main, others } = files.value;
  const queue = [...main];
  const read: ReadFile[] = [];
  const left = new Map(others.map((file) => [file.name, file]));
  const unread: string[] = [];
  for (let file = queue.shift(); file !== undefined; file = queue.shift()) {
    const isFurther = main.length > 1 || !main.includes(file);
    const outcome = contentOf(input, file, isFurther, limits);
    if (!outcome.ok) return outcome;
    for (const finding of outcome.findings) findings.all.push(finding);
    read.push({ name: file.name, content: outcome.value });
    for (const href of outcome.value.links) {
      const path = pathOfLink(file.name, href);
      const linked = path === undefined ? undefined : left.get(path);
      const isRead = read.some(({ name }) => name !== "" && name === path);
      if (linked !== undefined) {
        left.delete(linked.name);
        queue.push(linked);
      } else if (!isRead && !queue.some(({ name }) => name !== "" && name === path)) {
        unread.push(href || "nothing");
      }
    }
  }
  if (unread.length > 0) findings.add(linkFinding(unread));
  if (left.size > 0) findings.add(leftFinding([...left.keys()]));
  return done(read);
}

function listed(names: readonly string[]): string {
  const shown = names.slice(0, 3).map((name) => name.slice(0, 200));
  return names.length > 3 ? `${shown.join(", ")} and ${names.length - 3} more` : shown.join(", ");
}

function linkFinding(hrefs: readonly string[]): Omit<Finding, "file"> {
  return {
    code: "KML_NETWORK_LINK",
    severity: "warning",
    message: `${hrefs.length} network link(s) are not followed; nothing is fetched: ${listed(hrefs)}`,
    remedy: "Open the link, save what it shows as a KML file of its own, and give that too.",
  };
}

function leftFinding(names: readonly string[]): Omit<Finding, "file"> {
  return {
    code: "KMZ_FILE_NOT_READ",
    severity: "warning",
    message: `the archive's doc.kml does not refer to ${names.length} other KML file(s) in it, which are not read: ${listed(names)}`,
    remedy: "Unpack the archive and give those files too, if they belong to the site.",
  };
}

function skippedFinding(name: string, number: number): Omit<Finding, "file"> {
  return {
    code: "KML_ELEMENT_NOT_READ",
    severity: "info",
    message: `${number} <${name}> element(s) hold no shapes of the site and are not read`,
    remedy: "Draw the shapes as polygons, lines or points if they matter.",
  };
}

/** The layers of a KML or KMZ file, a folder each. */
export function readKml(input: InputFile, context: ReadContext): Outcome<RawLayer[]> {
  const file = input.name;
  const findings = new FindingList(file);
  const read = readAll(input, context, findings);
  if (!read.ok) return read;
  const skipped = new Map<string, number>();
  for (const { content } of read.value) {
    for (const [name, number] of content.skipped) {
      skipped.set(name, (skipped.get(name) ?? 0) + number);
    }
  }
  for (const [name, number] of skipped) findings.add(skippedFinding(name, number));
  const layers = read.value.flatMap(({ content }) =>
    content.folders.map((folder) => layerOf(file, folder, content, findings)),
  );
  if (layers.length === 0) {
    return failed(
      inputProblem(
        file,
        "KML_NO_PLACEMARKS",
        "the KML file holds no placemarks, so there are no shapes in it",
        "Save the folder that holds the shapes, not a view or a link to it.",
      ),
      findings.all,
    );
  }
  const firstFault = findings.all.find(({ feature }) => feature !== undefined);
  if (firstFault !== undefined && layers.every((layer) => layer.features.length === 0)) {
    return failed(
      inputProblem(
        file,
        firstFault.code,
        `none of its placemarks can be used; ${firstFault.message}`,
        firstFault.remedy,
      ),
      findings.all,
    );
  }
  return done(layers, findings.all);
}
