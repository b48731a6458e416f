import type { Geometry, Position } from "geojson";

/** Collections in collections: more is no map data. */
const NESTING_MAX = 16;

const NUMBER = /\s*([+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?)/iy;
const WORD = /\s*([A-Za-z]+)/y;

class Fault extends Error {}

class Reader {
  readonly #text: string;
  #at = 0;

  constructor(text: string) {
    this.#text = text;
  }

  /** What a sticky pattern matches here, which is then passed. */
  #take(pattern: RegExp): string | undefined {
    pattern.lastIndex = this.#at;
    const match = pattern.exec(this.#text);
    if (match === null) return undefined;
    this.#at = pattern.lastIndex;
    return match[1];
  }

  #isNext(char: string): boolean {
    while (/\s/.test(this.#text[this.#at] ?? "")) this.#at++;
    if (this.#text[this.#at] !== char) return false;
    this.#at++;
    return true;
  }

  #list<T>(each: () => T): T[] {
    if (!this.#isNext("(")) throw new Fault("an opening bracket is missing");
    const parts = [each()];
    while (this.#isNext(",")) parts.push(each());
    if (!this.#isNext(")")) throw new Fault("a closing bracket is missing");
    return parts;
  }

  #position = (): Position => {
    const numbers: number[] = [];
    for (let text = this.#take(NUMBER); text !== undefined; text = this.#take(NUMBER)) {
      numbers.push(Number(text));
      if (numbers.length > 4) break;
    }
    if (numbers.length < 2 || numbers.length > 4)
      throw new Fault(`a position has ${numbers.length} numbers`);
    return this.#isMeasured ? numbers.slice(0, numbers.length - 1) : numbers.slice(0, 3);
  };

  /** Whether the last number of each position is a measure, which is left out. */
  #isMeasured = false;

  geometry(depth = 0): Geometry | null {
    if (depth > NESTING_MAX) throw new Fault(`collections are nested ${depth} deep`);
    const word = this.#take(WORD)?.toUpperCase() ?? "";
    const [, name = "", dimensions = ""] = /^(.*?)(ZM|Z|M)?$/.exec(word) ?? [];
    const next = this.#peekWord();
    const marks = dimensions || (["Z", "M", "ZM"].includes(next) ? next : "");
    if (marks === next && marks !== "" && dimensions === "") this.#take(WORD);
    this.#isMeasured = marks.endsWith("M");
    if (this.#peekWord() === "EMPTY") {
      this.#take(WORD);
      return null;
    }
    return this.#body(name, depth);
  }

  #peekWord(): string {
    const before = this.#at;
    const word = this.#take(WORD)?.toUpperCase() ?? "";
    this.#at = before;
    return word;
  }

  #body(name: string, depth: number): Geometry {
    const line = () => this.#list(this.#position);
    const rings = () => this.#list(line);
    switch (name) {
      case "POINT":
        return { type: "Point", coordinates: this.#list(this.#position)[0]! };
      case "LINESTRING":
        return { type: "LineString", coordinates: line() };
      case "POLYGON":
        return { type: "Polygon", coordinates: rings() };
      case "MULTIPOINT":
        return { type: "MultiPoint", coordinates: this.#list(() => this.#memberPoint()) };
      case "MULTILINESTRING":
        return { type: "MultiLineString", coordinates: rings() };
      case "MULTIPOLYGON":
        return { type: "MultiPolygon", coordinates: this.#list(rings) };
      case "GEOMETRYCOLLECTION": {
        const members = this.#list(() => this.geometry(depth + 1));
        return { type: "GeometryCollection", geometries: members.filter((one) => one !== null) };
      }
      default:
        throw new Fault(name === "" ? "it names no shape" : `${name.slice(0, 30)} is not read`);
    }
  }

  /** A point of several stands in brackets of its own, or without. */
  #memberPoint(): Position {
    const before = this.#at;
    const bracketed = this.#isNext("(");
    this.#at = before;
    return bracketed ? this.#list(this.#position)[0]! : this.#position();
  }

  end(): void {
    if (this.#text.slice(this.#at).trim() !== "") throw new Fault("text stands behind it");
  }
}

export type WktOutcome =
  | { readonly kind: "geometry"; readonly geometry: Geometry | null }
  | { readonly kind: "damaged"; readonly why: string };

/**
 * Well-known text (OGC 06-103r4, section 7, also with heights and measures, and with the `SRID=N;` of
 * EWKT before it, which is passed over) to GeoJSON geometry; null for an empty one.
 */
export function readWkt(text: string): WktOutcome {
  const reader = new Reader(text.replace(/^\s*SRID=\d+;/i, ""));
  try {
    const geometry = reader.geometry();
    reader.end();
    return { kind: "geometry", geometry };
  } catch (error) {
    if (error instanceof Fault) return { kind: "damaged", why: error.message };
    throw error;
  }
}
