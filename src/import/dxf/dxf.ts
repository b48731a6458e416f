import type { InputFile, RawLayer } from "../../model/features.ts";
import { done, failed, type Outcome } from "../../model/finding.ts";
import { CHORD_TOLERANCE_M } from "../chords.ts";
import { FindingList, inputProblem, type ReadContext, type Reader } from "../reader.ts";
import { decodeText, headOf } from "../text.ts";
import { drawingUnit } from "./drawing-units.ts";
import { expandBlocks, SHAPES_MAX } from "./expand-blocks.ts";
import { soundGroups } from "./groups.ts";
import { layersOf } from "./layers.ts";
import { type Drawing, parseDrawing } from "./parse-drawing.ts";
import { crsOfComments } from "./plan-data.ts";
import { reportDrawing } from "./report.ts";

/** Bytes within which the comments before the first section are looked for. */
const HEAD_BYTES = 16_384;

const REMEDY = "Save the drawing again as DXF (text form) from the program that made it.";

async function readDxf(input: InputFile, context: ReadContext): Promise<Outcome<RawLayer[]>> {
  const file = input.name;
  const fail = (code: string, message: string, remedy = REMEDY) =>
    failed<RawLayer[]>(inputProblem(file, code, message, remedy));
  if (isBinary(input.bytes)) {
    return fail("DXF_BINARY", "this is the binary form of DXF, which is not read");
  }
  const groups = soundGroups(decodeText(input.bytes).text);
  if (groups.fault?.kind === "cut") {
    return fail("DXF_TRUNCATED", `the drawing is cut short: it ends at line ${groups.fault.line}`);
  }
  if (groups.fault !== undefined) {
    return fail(
      "DXF_BROKEN",
      `line ${groups.fault.line} should be a group code (a whole number), and is none`,
    );
  }
  let drawing: Drawing;
  try {
    drawing = await parseDrawing(groups.text);
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    return fail("DXF_BROKEN", `the drawing cannot be read (${why})`);
  }
  const unit = drawingUnit(drawing.header);
  const chordToleranceM = context.chordToleranceM ?? CHORD_TOLERANCE_M;
  const expanded = expandBlocks(drawing, chordToleranceM / (unit?.metres ?? 1));
  if (expanded.tooMany) {
    return fail(
      "DXF_TOO_MANY_SHAPES",
      `its blocks come to more than ${SHAPES_MAX} shapes, or two million points, when put in place`,
      "Save only the layers of the site, without blocks that hold arrays of blocks.",
    );
  }
  const findings = new FindingList(file);
  reportDrawing(drawing, expanded, groups.notRead, unit, chordToleranceM, findings);
  if (expanded.pieces.length === 0) {
    return failed(
      inputProblem(
        file,
        "DXF_NO_SHAPES",
        "the drawing holds no line, curve, hatch or point in its model space",
        "Draw the outlines in model space, or save the drawing with its references bound.",
      ),
      findings.all,
    );
  }
  const said = { data: groups.planData, crs: crsOfComments(headOf(input.bytes, HEAD_BYTES)) };
  return done(layersOf(file, expanded.pieces, unit?.metres, said, findings), findings.all);
}

/** The sentinel with which the binary form of the format begins. */
function isBinary(bytes: Uint8Array): boolean {
  return headOf(bytes, 22).startsWith("AutoCAD Binary DXF");
}

/** Drawings in DXF, text form. See docs/formats/dxf.md. */
export const dxfReader: Reader = {
  id: "dxf",
  label: "DXF",
  extensions: [".dxf"],
  bytesMax: "textBytesMax",
  looksLike: (bytes) => {
    const head = headOf(bytes, 4096);
    return (
      isBinary(bytes) || /^\s*(?:999\s*\r?\n[^\n]*\n\s*)*0\s*\r?\n\s*SECTION\s*\r?\n/.test(head)
    );
  },
  read: readDxf,
};
