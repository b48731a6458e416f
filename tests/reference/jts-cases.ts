/** The XML test cases of JTS (locationtech/jts, modules/tests; EPL-2.0 or EDL-1.0), which GEOS runs too. */
import { existsSync, readFileSync } from "node:fs";
import { DOMParser, type Element } from "@xmldom/xmldom";
import WKTReader from "jsts/org/locationtech/jts/io/WKTReader.js";
import type { AreaM } from "../../src/model/geometry.ts";
import { polygonsOf, type Shape } from "../support/topology.ts";

/** The cases come with a larger collection of data, which not every checkout has beside it. */
export const JTS_FOLDER = "../shared/data/reference/jts";
export const JTS_IS_HERE = existsSync(JTS_FOLDER);
export const JTS_REASON = JTS_IS_HERE
  ? ""
  : " (skipped: the JTS cases are not beside this checkout)";

export interface JtsCase {
  /** File, number of the case in it (from 1) and its description. */
  readonly name: string;
  readonly operation: string;
  readonly a: Shape;
  readonly b: Shape | undefined;
  /** Text of further arguments, in order. */
  readonly args: readonly string[];
  /** Text of the expected result. */
  readonly expected: string;
}

const reader = new (WKTReader as unknown as new () => { read(wkt: string): Shape })();

/** Undefined where jsts cannot read it (hexadecimal WKB, curves). */
export function shapeOf(wkt: string | undefined): Shape | undefined {
  if (wkt === undefined) return undefined;
  try {
    return reader.read(wkt.replace(/\s+/g, " ").trim());
  } catch {
    return undefined;
  }
}

const children = (parent: Element, tag: string) =>
  Array.from(parent.getElementsByTagName(tag)) as Element[];
const textIn = (parent: Element, tag: string) => children(parent, tag)[0]?.textContent ?? undefined;

/** Every test of a file; cases whose geometry cannot be read have `a` undefined. */
export function casesOf(file: string): JtsCase[] {
  const text = readFileSync(`${JTS_FOLDER}/${file}`, "utf8");
  const root = new DOMParser().parseFromString(text, "text/xml").documentElement!;
  return children(root, "case").flatMap((one, i) => {
    const described = (textIn(one, "desc") ?? "").replace(/\s+/g, " ").trim();
    const [a, b] = [shapeOf(textIn(one, "a")), shapeOf(textIn(one, "b"))];
    return children(one, "op").map((op) => ({
      name: `${file} ${i + 1}: ${described}`,
      operation: (op.getAttribute("name") ?? "").toLowerCase(),
      a: (op.getAttribute("arg1") ?? "A").toUpperCase() === "B" ? b : a,
      b: (op.getAttribute("arg1") ?? "A").toUpperCase() === "B" ? a : b,
      args: ["arg2", "arg3", "arg4"].flatMap((key) => op.getAttribute(key) ?? []),
      expected: (op.textContent ?? "").trim(),
    }));
  });
}

/** Whether a shape is made of polygons alone and is not empty. */
export function isAreal(shape: Shape | undefined): boolean {
  return (
    shape !== undefined && /^(Multi)?Polygon$/.test(shape.getGeometryType()) && !shape.isEmpty()
  );
}

/** Rings of ours from closed rings of positions. */
export function areasOf(shape: Shape): AreaM[] {
  return polygonsOf(shape).map(([shell, ...holes]) => ({
    shell: turned(shell!, 1),
    holes: holes.map((hole) => turned(hole, -1)),
  }));
}

function turned(ring: readonly [number, number][], sign: 1 | -1): Float64Array {
  const open = ring.slice(0, -1);
  let twice = 0;
  open.forEach(([x, y], i) => {
    const [u, v] = open[(i + 1) % open.length]!;
    twice += x * v - u * y;
  });
  return Float64Array.from((twice * sign >= 0 ? open : [...open].reverse()).flat());
}

/** Counts by class, for the report and for holding them. */
export class Tally {
  readonly counts: Record<string, number> = {};
  readonly names: Record<string, string[]> = {};

  add(what: string, name: string): void {
    this.counts[what] = (this.counts[what] ?? 0) + 1;
    const list = this.names[what];
    if (list) list.push(name);
    else this.names[what] = [name];
  }
}
