/** The part of pdfkit that is used here (the package has no types of its own). */
declare module "pdfkit" {
  interface Options {
    readonly autoFirstPage?: boolean;
    readonly pdfVersion?: "1.7";
    readonly font?: null;
    readonly info?: { readonly CreationDate?: Date };
  }
  export default class PDFDocument {
    constructor(options: Options);
    readonly info: { Title?: string; Creator?: string; CreationDate?: Date };
    on(event: "data", listener: (part: Uint8Array) => void): this;
    on(event: "end", listener: () => void): this;
    on(event: "error", listener: (error: unknown) => void): this;
    registerFont(name: string, bytes: Uint8Array): this;
    addPage(options: { readonly size: [number, number]; readonly margin: number }): this;
    save(): this;
    restore(): this;
    scale(factor: number): this;
    rotate(degrees: number, options: { readonly origin: [number, number] }): this;
    transform(a: number, b: number, c: number, d: number, e: number, f: number): this;
    rect(x: number, y: number, width: number, height: number): this;
    clip(): this;
    /** Operators of the page's content stream, as they stand. */
    addContent(operators: string): this;
    fillColor(colour: string, opacity: number): this;
    strokeColor(colour: string): this;
    lineWidth(width: number): this;
    lineCap(cap: "round"): this;
    lineJoin(join: "round"): this;
    font(name: string): this;
    fontSize(size: number): this;
    widthOfString(text: string): number;
    text(
      text: string,
      x: number,
      y: number,
      options: { readonly lineBreak: false; readonly baseline: "alphabetic" },
    ): this;
    openImage(bytes: Uint8Array): object;
    image(
      image: object,
      x: number,
      y: number,
      options: { readonly width: number; readonly height: number },
    ): this;
    endMetadata: () => void;
    end(): void;
  }
}
