/** Tables, blocks and objects that every drawing has (DXF reference, "TABLES", "BLOCKS", "OBJECTS"). */
import { PLAN_APPLICATION } from "../../import/dxf/plan-data.ts";
import { type StyleName, styleNamed } from "../style/plan-style.ts";
import type { Groups } from "./groups.ts";
import { type DxfLayer, layerName, METRES_PER_MM } from "./layers.ts";

/** Handles of the blocks that hold the entities of model space and of the sheet. */
export interface Spaces {
  readonly model: string;
  readonly paper: string;
}

type Box = readonly [number, number, number, number];

export function putTables(
  out: Groups,
  layers: readonly DxfLayer[],
  styles: readonly StyleName[],
  [minX, minY, maxX, maxY]: Box,
): Spaces {
  out.all(0, "SECTION", 2, "TABLES");
  const table = (name: string, count: number, put: (owner: string) => void) => {
    const owner = out.newHandle();
    out.all(0, "TABLE", 2, name, 5, owner, 330, "0", 100, "AcDbSymbolTable", 70, count);
    if (name === "DIMSTYLE") out.all(100, "AcDbDimStyleTable");
    put(owner);
    out.put(0, "ENDTAB");
  };
  const record = (type: string, mark: string, owner: string, name: string, handleCode = 5) => {
    const handle = out.newHandle();
    out.all(0, type, handleCode, handle, 330, owner, 100, "AcDbSymbolTableRecord", 100, mark);
    out.put(2, name);
    return handle;
  };
  table("VPORT", 1, (owner) => {
    record("VPORT", "AcDbViewportTableRecord", owner, "*Active");
    const heightM = 1.1 * Math.max(maxY - minY, (maxX - minX) / 1.5, 1);
    out.all(70, 0, 10, 0, 20, 0, 11, 1, 21, 1, 12, (minX + maxX) / 2, 22, (minY + maxY) / 2);
    out.all(13, 0, 23, 0, 14, 1, 24, 1, 15, 1, 25, 1, 16, 0, 26, 0, 36, 1, 17, 0, 27, 0, 37, 0);
    out.all(40, heightM, 41, 1.5, 42, 50, 43, 0, 44, 0, 50, 0, 51, 0, 71, 0, 72, 1000);
    out.all(73, 1, 74, 3, 75, 0, 76, 0, 77, 0, 78, 0);
  });
  const dashed = styles.filter((name) => styleNamed(name).stroke?.dashMm);
  table("LTYPE", 3 + dashed.length, (owner) => {
    for (const name of ["ByBlock", "ByLayer", "Continuous"]) {
      record("LTYPE", "AcDbLinetypeTableRecord", owner, name);
      out.all(70, 0, 3, name === "Continuous" ? "Solid line" : "", 72, 65, 73, 0, 40, 0);
    }
    for (const name of dashed) {
      const { label, stroke } = styleNamed(name);
      const dashes = stroke!.dashMm!.map((mm) => mm * METRES_PER_MM);
      record("LTYPE", "AcDbLinetypeTableRecord", owner, layerName(name));
      out.all(
        70,
        0,
        3,
        label,
        72,
        65,
        73,
        dashes.length,
        40,
        dashes.reduce((a, b) => a + b),
      );
      // Marks are lengths above 0, gaps below.
      for (const [i, length] of dashes.entries())
        out.all(49, i % 2 === 0 ? length : -length, 74, 0);
    }
  });
  table("LAYER", 1 + layers.length, (owner) => {
    record("LAYER", "AcDbLayerTableRecord", owner, "0");
    out.all(70, 0, 62, 7, 6, "Continuous", 370, -3, 390, "F");
    for (const { name, colourNumber, trueColour, lineType, lineWeight, isOff } of layers) {
      record("LAYER", "AcDbLayerTableRecord", owner, name);
      // A colour below 0 says that the layer is off.
      out.all(
        70,
        0,
        62,
        isOff ? -colourNumber : colourNumber,
        420,
        trueColour,
        6,
        lineType,
        370,
        lineWeight,
        390,
        "F",
      );
    }
  });
  table("STYLE", 1, (owner) => {
    record("STYLE", "AcDbTextStyleTableRecord", owner, "Standard");
    out.all(70, 0, 40, 0, 41, 1, 50, 0, 71, 0, 42, 0.15, 3, "txt", 4, "");
  });
  table("VIEW", 0, () => {});
  table("UCS", 0, () => {});
  table("APPID", 2, (owner) => {
    for (const name of ["ACAD", PLAN_APPLICATION]) {
      record("APPID", "AcDbRegAppTableRecord", owner, name);
      out.put(70, 0);
    }
  });
  table("DIMSTYLE", 1, (owner) => {
    record("DIMSTYLE", "AcDbDimStyleTableRecord", owner, "Standard", 105);
    out.put(70, 0);
  });
  let spaces: Spaces | undefined;
  table("BLOCK_RECORD", 2, (owner) => {
    const model = record("BLOCK_RECORD", "AcDbBlockTableRecord", owner, "*Model_Space");
    const paper = record("BLOCK_RECORD", "AcDbBlockTableRecord", owner, "*Paper_Space");
    spaces = { model, paper };
  });
  out.put(0, "ENDSEC");
  return spaces!;
}

export function putBlocks(out: Groups, { model, paper }: Spaces): void {
  out.all(0, "SECTION", 2, "BLOCKS");
  for (const [owner, name] of [
    [model, "*Model_Space"],
    [paper, "*Paper_Space"],
  ] as const) {
    out.all(0, "BLOCK", 5, out.newHandle(), 330, owner, 100, "AcDbEntity");
    if (owner === paper) out.put(67, 1);
    out.all(8, "0", 100, "AcDbBlockBegin", 2, name, 70, 0, 10, 0, 20, 0, 30, 0, 3, name, 1, "");
    out.all(0, "ENDBLK", 5, out.newHandle(), 330, owner, 100, "AcDbEntity");
    if (owner === paper) out.put(67, 1);
    out.all(8, "0", 100, "AcDbBlockEnd");
  }
  out.put(0, "ENDSEC");
}

/** The root dictionary, and the place holder that plot styles of layers point to (handle F). */
export function putObjects(out: Groups): void {
  out.all(0, "SECTION", 2, "OBJECTS");
  out.all(0, "DICTIONARY", 5, "C", 330, "0", 100, "AcDbDictionary", 281, 1);
  out.all(3, "ACAD_GROUP", 350, "D", 3, "ACAD_PLOTSTYLENAME", 350, "E");
  out.all(0, "DICTIONARY", 5, "D", 330, "C", 100, "AcDbDictionary", 281, 1);
  out.all(0, "ACDBDICTIONARYWDFLT", 5, "E", 330, "C", 100, "AcDbDictionary", 281, 1);
  out.all(3, "Normal", 350, "F", 100, "AcDbDictionaryWithDefault", 340, "F");
  out.all(0, "ACDBPLACEHOLDER", 5, "F", 330, "E");
  out.put(0, "ENDSEC");
}
