/** Sheets as PDF (1.7), one page each, true to scale. Loaded only where one is written. */
import { unzlibSync } from "fflate";
import PDFDocument from "pdfkit";
import { TOOL, VERSION } from "../../version.ts";
import { decodeBase64 } from "../base64.ts";
import { ARIMO_BOLD, ARIMO_REGULAR } from "./font/arimo.data.ts";
import { inFont } from "./lettering.ts";
import type { FillMm, LineMm, PathShape, Shape, Sheet, StrokeMm, TextShape } from "./scene.ts";
import { num } from "./svg.ts";

type Doc = InstanceType<typeof PDFDocument>;

const POINTS_PER_MM = 72 / 25.4;

/**
 * All sheets in one PDF. Same sheets, same bytes: no date, no clock.
 *
 * The letters that are used are embedded; a character that the font has not shows as a box.
 */
export async function sheetsPdf(title: string, sheets: readonly Sheet[]): Promise<Uint8Array> {
  const doc = new PDFDocument({
    autoFirstPage: false,
    pdfVersion: "1.7",
    // No font before ours are there.
    font: null,
    // The library makes the file's name of it; it is taken out again, for the clock is never asked.
    info: { CreationDate: new Date(0) },
  });
  delete (doc.info as { CreationDate?: Date }).CreationDate;
  doc.info.Title = inFont(title);
  doc.info.Creator = `${TOOL} ${VERSION}`;
  // Its second copy of these facts wants a date, and takes the title as it stands into XML.
  doc.endMetadata = () => {};
  const parts: Uint8Array[] = [];
  doc.on("data", (part: Uint8Array) => parts.push(part));
  const ended = new Promise<void>((resolve, reject) => {
    doc.on("end", resolve);
    doc.on("error", reject);
  });
  doc.registerFont("regular", unzlibSync(decodeBase64(ARIMO_REGULAR)));
  doc.registerFont("bold", unzlibSync(decodeBase64(ARIMO_BOLD)));
  for (const sheet of sheets) {
    const size: [number, number] = [sheet.widthMm * POINTS_PER_MM, sheet.heightMm * POINTS_PER_MM];
    doc.addPage({ size, margin: 0 });
    doc.scale(POINTS_PER_MM);
    for (const shape of sheet.items) draw(doc, shape);
  }
  doc.end();
  await ended;
  return joined(parts);
}

function joined(parts: readonly Uint8Array[]): Uint8Array {
  const bytes = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    bytes.set(part, at);
    at += part.length;
  }
  return bytes;
}

function draw(doc: Doc, shape: Shape): void {
  switch (shape.kind) {
    case "path":
      drawPath(doc, shape);
      return;
    case "text":
      drawText(doc, shape);
      return;
    case "image": {
      doc.save();
      doc.transform(...(shape.matrix as [number, number, number, number, number, number]));
      doc.image(opened(doc, shape.bytes), 0, 0, { width: 1, height: 1 });
      doc.restore();
      return;
    }
    case "group": {
      if (shape.clip) {
        const { left, top, right, bottom } = shape.clip;
        doc.save();
        doc.rect(left, top, right - left, bottom - top).clip();
      }
      for (const item of shape.items) draw(doc, item);
      if (shape.clip) doc.restore();
    }
  }
}

const images = new WeakMap<Doc, Map<Uint8Array, object>>();

/** A picture as the document knows it: read once, however many pages show it. */
function opened(doc: Doc, bytes: Uint8Array): object {
  const known = images.get(doc) ?? new Map<Uint8Array, object>();
  images.set(doc, known);
  const image = known.get(bytes) ?? doc.openImage(bytes);
  known.set(bytes, image);
  return image;
}

function drawPath(doc: Doc, { lines, stroke, fill }: PathShape): void {
  if (!stroke && !fill) return;
  doc.save();
  if (fill) setFill(doc, fill);
  if (stroke) setStroke(doc, stroke);
  doc.addContent(lines.map(pathData).join("\n"));
  doc.addContent(fill ? (stroke ? "B*" : "f*") : "S");
  doc.restore();
}

function setFill(doc: Doc, { colour, opacity = 1 }: FillMm): void {
  doc.fillColor(colour, opacity);
}

function setStroke(doc: Doc, { colour, widthMm, dashMm, round }: StrokeMm): void {
  doc.strokeColor(colour).lineWidth(widthMm);
  if (round) doc.lineCap("round").lineJoin("round");
  if (dashMm) doc.addContent(`[${dashMm.map(num).join(" ")}] 0 d`);
}

function pathData({ points, closed }: LineMm): string {
  const parts: string[] = [];
  for (let i = 0; i < points.length; i += 2) {
    parts.push(`${num(points[i]!)} ${num(points[i + 1]!)} ${i === 0 ? "m" : "l"}`);
  }
  return closed ? `${parts.join("\n")}\nh` : parts.join("\n");
}

function drawText(doc: Doc, shape: TextShape): void {
  const { x, y, sizeMm, bold, colour = "#000000", anchor = "start", angleDeg } = shape;
  const text = inFont(shape.text);
  if (text === "") return;
  doc.save();
  if (angleDeg) doc.rotate(-angleDeg, { origin: [x, y] });
  doc
    .font(bold ? "bold" : "regular")
    .fontSize(sizeMm)
    .fillColor(colour, 1);
  const width = anchor === "start" ? 0 : doc.widthOfString(text);
  const left = anchor === "middle" ? x - width / 2 : x - width;
  doc.text(text, left, y, { lineBreak: false, baseline: "alphabetic" });
  doc.restore();
}
