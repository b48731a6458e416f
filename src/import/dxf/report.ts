import type { FindingList } from "../reader.ts";
import type { Expanded } from "./expand-blocks.ts";
import type { Drawing } from "./parse-drawing.ts";

function listed(counts: ReadonlyMap<string, number>): string {
  return [...counts].map(([name, number]) => `${number} ${name}`).join(", ");
}

/** What must be said of a drawing as a whole: unit, curves, what is not read, hidden layers. */
export function reportDrawing(
  drawing: Drawing,
  expanded: Expanded,
  notRead: ReadonlyMap<string, number>,
  unit: { name: string; metres: number } | undefined,
  chordToleranceM: number,
  findings: FindingList,
): void {
  if (unit === undefined) {
    findings.add({
      code: "DXF_UNIT_MISSING",
      severity: "warning",
      message:
        "the drawing does not say which unit its lengths are in ($INSUNITS): that of the reference system is taken, metres where nothing else is said",
      remedy: "Check the site's size with `pegline inspect`; set the drawing's unit and save it.",
    });
  }
  const curves = expanded.pieces.filter(({ piece }) => piece.curved).length;
  if (curves > 0) {
    findings.add({
      code: "CURVES_AS_CHORDS",
      severity: "info",
      message: `${curves} arc(s), circle(s) and other curves are read as chords, none farther than ${Number((chordToleranceM * 1000).toFixed(3))} mm from the curve`,
      remedy: "Nothing to do.",
    });
  }
  const skipped = new Map([...notRead]);
  for (const [type, number] of expanded.unreadable) {
    skipped.set(type, (skipped.get(type) ?? 0) + number);
  }
  if (skipped.size > 0) {
    findings.add({
      code: "DXF_ENTITY_NOT_READ",
      severity: "info",
      message: `entities that hold no outline are not read: ${listed(skipped)}`,
      remedy:
        "Nothing to do for text and dimensions; draw other shapes as polylines if they matter.",
    });
  }
  if (expanded.missingBlocks.size > 0) {
    findings.add({
      code: "DXF_BLOCK_MISSING",
      severity: "warning",
      message: `blocks that are placed but not in the drawing (references to other files), or that hold themselves, are left out: ${listed(expanded.missingBlocks)}`,
      remedy: "Bind the references into the drawing, then save it again.",
    });
  }
  if (expanded.inPaperSpace > 0) {
    findings.add({
      code: "DXF_PAPER_SPACE",
      severity: "info",
      message: `${expanded.inPaperSpace} entities of the sheet (paper space) are left out`,
      remedy: "Nothing to do, unless the site itself was drawn there.",
    });
  }
  reportHidden(drawing, expanded, findings);
}

function reportHidden(drawing: Drawing, expanded: Expanded, findings: FindingList): void {
  const used = new Set(expanded.pieces.map(({ layer }) => layer));
  const hidden = Object.entries(drawing.tables?.layer?.layers ?? {})
    .filter(([name, { visible, frozen }]) => used.has(name) && (visible === false || frozen))
    .map(([name, { frozen }]) => `${name} (${frozen ? "frozen" : "off"})`);
  if (hidden.length === 0) return;
  findings.add({
    code: "DXF_LAYER_HIDDEN",
    severity: "warning",
    message: `layers that are not shown in the drawing are read all the same: ${hidden.join(", ")}`,
    remedy: "Give them the role ignore with --role LAYER=ignore if they are no part of the site.",
  });
}
