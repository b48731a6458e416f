import type { CrsDeclaration } from "./features.ts";
import type { Outcome } from "./finding.ts";
import type { CellFrame, CellWindow } from "./raster.ts";

/** Bytes of a picture that PDF and SVG take as they are. */
export interface PictureBytes {
  readonly format: "png" | "jpeg";
  readonly bytes: Uint8Array;
}

/** A georeferenced picture as its file has it, opened but not yet read. */
export interface RawPicture {
  readonly file: string;
  readonly columns: number;
  readonly rows: number;
  /** From cells to coordinates of the file's system. */
  readonly frame: CellFrame;
  readonly crs: CrsDeclaration;
  /** Whether a part can be taken out; else `take` gives the whole. */
  readonly isDivisible: boolean;
  /** The cells of a window, at most so many on its longer side. */
  take(window: CellWindow, sideMax: number): Promise<Outcome<PictureBytes>>;
}
