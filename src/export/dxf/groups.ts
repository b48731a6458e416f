/** Groups of a DXF drawing: a code on one line, its value on the next (DXF reference, "DXF Format"). */
export class Groups {
  readonly #lines: string[] = [];
  #handle = 0x100;

  put(code: number, value: string | number): this {
    this.#lines.push(String(code), typeof value === "number" ? numberText(code, value) : value);
    return this;
  }

  /** Several groups: code, value, code, value … */
  all(...pairs: readonly (string | number)[]): this {
    for (let i = 0; i + 1 < pairs.length; i += 2) this.put(pairs[i] as number, pairs[i + 1]!);
    return this;
  }

  /** A handle that nothing else bears. */
  newHandle(): string {
    return (this.#handle++).toString(16).toUpperCase();
  }

  /** The handle that comes after all others; to be asked for at the end. */
  get nextHandle(): string {
    return this.#handle.toString(16).toUpperCase();
  }

  add(other: Groups): this {
    for (const line of other.#lines) this.#lines.push(line);
    return this;
  }

  get text(): string {
    return `${this.#lines.join("\r\n")}\r\n`;
  }
}

/** Whole numbers by code (60 to 99, 170 to 179, 270 to 289, 370 to 459), others with 6 decimals at most. */
function numberText(code: number, value: number): string {
  const isWhole =
    (code >= 60 && code < 100) ||
    (code >= 170 && code < 180) ||
    (code >= 270 && code < 290) ||
    (code >= 370 && code < 460);
  if (isWhole) return String(Math.round(value));
  const text = value.toFixed(6).replace(/0+$/, "");
  const sound = text.endsWith(".") ? `${text}0` : text;
  return sound === "-0.0" ? "0.0" : sound;
}
