/**
 * A drawing cut down to the groups that are read, in sound order, before the parser sees it.
 *
 * The parser runs on for ever where an end mark is missing and writes to the console where a group
 * is new to it; what comes out of here gives it no cause for either. Groups, sections and end marks
 * are those of the DXF reference ("DXF Group Codes in Numerical Order").
 */

import { PLAN_APPLICATION } from "./plan-data.ts";

/** Entities whose shapes are read. */
const READ = new Set(
  "LINE LWPOLYLINE POLYLINE VERTEX SEQEND ARC CIRCLE ELLIPSE SPLINE HATCH INSERT POINT SOLID".split(
    " ",
  ),
);
/** Extended data of an entity: the program that wrote it, and its texts. */
const DATA_APPLICATION = 1001;
const DATA_TEXT = 1000;
const HANDLE = 5;

const HEADER_READ = new Set(["$INSUNITS", "$ACADVER", "$DWGCODEPAGE"]);

/** What the drawing holds, as text for the parser, and what was kept from it. */
export interface SoundGroups {
  readonly text: string;
  /** Entities that hold no outline, by type. */
  readonly notRead: ReadonlyMap<string, number>;
  /** Pieces of a plan's attributes, by the handle of the entity that bears them. */
  readonly planData: ReadonlyMap<string, readonly string[]>;
  /** What is wrong with the file as a whole, with the line. */
  readonly fault?: { readonly kind: "cut" | "broken"; readonly line: number };
}

/** True for group codes that shapes, names, layers and flags are held in. */
function isKept(code: number): boolean {
  return (
    code === 2 ||
    code === 5 ||
    code === 8 ||
    (code >= 10 && code < 60) ||
    code === 67 ||
    (code >= 70 && code < 80) ||
    (code >= 91 && code < 100) ||
    (code >= 210 && code < 240)
  );
}

class Sieve {
  readonly out: string[] = [];
  readonly notRead = new Map<string, number>();
  readonly planData = new Map<string, string[]>();
  #handle = "";
  #isPlanData = false;
  #section = "";
  #inBlock = false;
  #inPolyline = false;
  #inLayerTable = false;
  /** Whether groups of the present record are passed on. */
  #passing = false;
  #awaitsName = false;
  #headerName = "";

  get isOpen(): boolean {
    return this.#section !== "";
  }

  put(code: number, value: string): void {
    if (code === 0) this.#begin(value);
    else if (this.#awaitsName && code === 2) this.#enter(value);
    else if (this.#section === "HEADER") this.#header(code, value);
    else if (code === DATA_APPLICATION) this.#isPlanData = value === PLAN_APPLICATION;
    else if (code === DATA_TEXT) this.#addData(value);
    else if (code === 101) this.#passing = false;
    else if (this.#passing && isKept(code)) this.#emit(code, value);
    else if (this.#passing && this.#section === "TABLES" && code === 62) this.#emit(code, value);
  }

  /** Kept from the parser, which has no place for it. */
  #addData(text: string): void {
    if (!this.#isPlanData || this.#section !== "ENTITIES" || this.#handle === "") return;
    const pieces = this.planData.get(this.#handle);
    if (pieces) pieces.push(text);
    else this.planData.set(this.#handle, [text]);
  }

  #emit(code: number, value: string): void {
    if (code === HANDLE) this.#handle = value;
    this.out.push(String(code), value);
  }

  #enter(name: string): void {
    this.#awaitsName = false;
    this.#section = name;
    if (["HEADER", "TABLES", "BLOCKS", "ENTITIES"].includes(name)) {
      this.#emit(0, "SECTION");
      this.#emit(2, name);
    }
  }

  #header(code: number, value: string): void {
    if (code === 9) this.#headerName = value;
    if (HEADER_READ.has(this.#headerName) && (code === 9 || code < 100)) this.#emit(code, value);
  }

  #begin(type: string): void {
    this.#passing = false;
    this.#isPlanData = false;
    this.#handle = "";
    this.#awaitsName = false;
    if (type === "SECTION") {
      // A section whose end is missing ends here: the parser would look for it to the end of memory.
      this.#endSection();
      this.#awaitsName = true;
    } else if (type === "ENDSEC") {
      this.#endSection();
    } else if (this.#section === "TABLES") {
      this.#table(type);
    } else if (this.#section === "BLOCKS" && (type === "BLOCK" || type === "ENDBLK")) {
      this.#endBlock();
      this.#inBlock = type === "BLOCK";
      this.#passing = this.#inBlock;
      if (this.#inBlock) this.#emit(0, "BLOCK");
    } else if (this.#section === "ENTITIES" || this.#inBlock) {
      this.#entity(type);
    }
  }

  #table(type: string): void {
    if (type === "LAYER") {
      // The table's own name is group 2 of TABLE; only its records begin with LAYER.
      if (!this.#inLayerTable) {
        this.#emit(0, "TABLE");
        this.#emit(2, "LAYER");
        this.#inLayerTable = true;
      }
      this.#emit(0, "LAYER");
      this.#passing = true;
    } else if (type !== "TABLE" && this.#inLayerTable) {
      this.#emit(0, "ENDTAB");
      this.#inLayerTable = false;
    }
  }

  #entity(type: string): void {
    if (this.#inPolyline && type !== "VERTEX" && type !== "SEQEND") this.#endPolyline();
    if (!READ.has(type)) {
      this.notRead.set(type, (this.notRead.get(type) ?? 0) + 1);
      return;
    }
    if (type === "VERTEX" || type === "SEQEND") {
      if (!this.#inPolyline) return;
      if (type === "SEQEND") {
        this.#endPolyline();
        return;
      }
    }
    this.#passing = true;
    this.#inPolyline = type === "POLYLINE" || type === "VERTEX";
    this.#emit(0, type);
  }

  #endPolyline(): void {
    if (!this.#inPolyline) return;
    this.#emit(0, "SEQEND");
    this.#inPolyline = false;
  }

  #endBlock(): void {
    this.#endPolyline();
    if (this.#inBlock) this.#emit(0, "ENDBLK");
    this.#inBlock = false;
  }

  #endSection(): void {
    this.#endBlock();
    if (this.#inLayerTable) this.#emit(0, "ENDTAB");
    this.#inLayerTable = false;
    if (["HEADER", "TABLES", "BLOCKS", "ENTITIES"].includes(this.#section)) this.#emit(0, "ENDSEC");
    this.#section = "";
  }
}

/** The groups of a drawing that are read. Linear in the text. */
export function soundGroups(text: string): SoundGroups {
  const sieve = new Sieve();
  const { notRead, planData } = sieve;
  let line = 0;
  let at = 0;
  const next = (): string | undefined => {
    if (at > text.length) return undefined;
    const end = text.indexOf("\n", at);
    const value = text.slice(at, end < 0 ? text.length : end);
    at = end < 0 ? text.length + 1 : end + 1;
    line++;
    return value.trim();
  };
  for (;;) {
    const code = next();
    if (code === undefined || (code === "" && at > text.length)) break;
    if (!/^-?\d+$/.test(code)) {
      return { text: "", notRead, planData, fault: { kind: "broken", line } };
    }
    const value = next();
    if (value === undefined) {
      return { text: "", notRead, planData, fault: { kind: "cut", line } };
    }
    if (code === "0" && value === "EOF") break;
    sieve.put(Number(code), value);
  }
  if (sieve.isOpen) return { text: "", notRead, planData, fault: { kind: "cut", line } };
  sieve.out.push("0", "EOF");
  return { text: sieve.out.join("\n"), notRead, planData };
}
