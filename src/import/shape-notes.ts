import type { FindingList } from "./reader.ts";
import type { Shape } from "./shp-shapes.ts";

/** What is said about the records of one shapefile. */
export class ShapeNotes {
  /** Numbers of records that the .dbf marks as deleted. */
  readonly deleted: number[] = [];
  readonly #lacksHeights: number[] = [];
  readonly #findings: FindingList;
  readonly #layer: string;

  constructor(findings: FindingList, layer: string) {
    this.#findings = findings;
    this.#layer = layer;
  }

  leftOut(number: number, isDamaged: boolean, fault: string): void {
    this.#findings.add({
      code: isDamaged ? "SHP_RECORD_DAMAGED" : "COORDINATE_NOT_A_NUMBER",
      severity: "error",
      layer: this.#layer,
      feature: `#${number}`,
      message: `record ${number} is left out: ${fault}`,
      remedy: "Repair the layer in the program that made it, and export it again.",
    });
  }

  note(number: number, { geometry, contrary, lacksHeights }: Shape): void {
    if (lacksHeights) this.#lacksHeights.push(number);
    const isNested = geometry?.type === "Polygon" && geometry.coordinates.length > 1;
    if (contrary === 0 || !(isNested || geometry?.type === "MultiPolygon")) return;
    this.#findings.add({
      code: "RING_WINDS_OTHERWISE",
      severity: "info",
      layer: this.#layer,
      feature: `#${number}`,
      message: `${contrary} ring(s) of record ${number} wind the other way than the format says; which are holes was told by what lies inside what`,
      remedy: "Check that the holes of that shape are where they belong.",
    });
  }

  report(): void {
    const [deleted] = this.deleted;
    if (deleted !== undefined) {
      this.#findings.add({
        code: "RECORDS_DELETED",
        severity: "info",
        layer: this.#layer,
        feature: `#${deleted}`,
        message: `${this.deleted.length} record(s) are marked as deleted in the .dbf and are left out; the first is record ${deleted}`,
        remedy: "Undelete them in the program that made the layer if they belong to the site.",
      });
    }
    const [flat] = this.#lacksHeights;
    if (flat !== undefined) {
      this.#findings.add({
        code: "SHP_HEIGHTS_MISSING",
        severity: "warning",
        layer: this.#layer,
        feature: `#${flat}`,
        message: `${this.#lacksHeights.length} record(s) are of a type with heights but hold none; the first is record ${flat}`,
        remedy: "Export the layer again if the heights matter.",
      });
    }
  }
}
