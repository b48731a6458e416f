import type { InputFile } from "../model/features.ts";
import { done, failed, type Outcome } from "../model/finding.ts";
import { inputProblem, type ReadLimits } from "./reader.ts";
import { isZip, unzip, zipNames } from "./zip.ts";

/** One KML document; `name` is empty for a plain file, else its path in the archive. */
export interface KmlFile {
  readonly name: string;
  readonly bytes: Uint8Array;
}

export interface KmlFiles {
  /** To be read as they are. */
  readonly main: readonly KmlFile[];
  /** To be read where a network link points to them. */
  readonly others: readonly KmlFile[];
}

/**
 * The KML documents of a file. In a KMZ the one at its root named `doc.kml` is the document and others
 * belong to it by links (OGC 12-007r2, annex C); an archive without it is a bundle of equals.
 */
export function kmlFiles(input: InputFile, limits: ReadLimits): Outcome<KmlFiles> {
  if (!isZip(input.bytes)) return done({ main: [{ name: "", bytes: input.bytes }], others: [] });
  const isKml = (name: string) => /\.kml$/i.test(name);
  if (zipNames(input.bytes).some(isKml) === false) {
    return failed(
      inputProblem(
        input.name,
        "ZIP_WITHOUT_LAYERS",
        "the archive holds no KML file",
        "Give a KMZ with a doc.kml in it, or the KML file itself.",
      ),
    );
  }
  const entries = unzip(input.name, input.bytes, limits, isKml);
  if (!entries.ok) return entries;
  const files = [...entries.value].map(([name, bytes]) => ({ name, bytes }));
  const isDoc = ({ name }: KmlFile) => /^doc\.kml$/i.test(name);
  return done(
    files.some(isDoc)
      ? { main: files.filter(isDoc), others: files.filter((file) => !isDoc(file)) }
      : { main: files, others: [] },
  );
}

/** Path of a link in an archive, from the file that holds it; undefined where it leads elsewhere. */
export function pathOfLink(from: string, href: string): string | undefined {
  if (href === "" || /^[a-z][a-z0-9+.-]*:|^\/\//i.test(href)) return undefined;
  const parts = from.split("/").slice(0, -1);
  for (const part of href.replace(/[?#].*$/, "").split(/[/\\]/)) {
    if (part === "..") parts.pop();
    else if (part !== "." && part !== "") parts.push(part);
  }
  return parts.join("/");
}
