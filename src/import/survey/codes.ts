/**
 * Words that stand beside a point's code and say how the line goes on, and codes whose points are
 * never joined. All in lower case. See docs/formats/survey-points.md.
 */
export interface SurveyCodes {
  /** A new line begins at this point. */
  readonly start: readonly string[];
  /** The line ends at this point. */
  readonly end: readonly string[];
  /** The line ends at this point and goes straight back to its first. */
  readonly close: readonly string[];
  /** The point lies on an arc from the point before it to the one after it. */
  readonly arc: readonly string[];
  /** An arc begins at this point; the points up to `arcEnd` lie on it. */
  readonly arcStart: readonly string[];
  readonly arcEnd: readonly string[];
  /** Codes, without a number at their end, whose points stay points. */
  readonly points: readonly string[];
}

/** What is usual in the field: common practice, no published source; crews differ. */
export const SURVEY_CODES: SurveyCodes = {
  start: ["st", "start", "beg", "begin", "s", "b"],
  end: ["end", "en", "e"],
  close: ["cl", "cls", "close", "c"],
  arc: ["arc", "a"],
  arcStart: ["bc", "pc"],
  arcEnd: ["ec", "pt"],
  points: (
    "tree trees station outlet socket control cp benchmark bm tbm nail peg post pole lamp light sign " +
    "bollard column pot statue boulder rock stump manhole mh gully valve tap hydrant sprinkler " +
    "spot level point"
  ).split(" "),
};

/** A point's code taken apart. */
export interface PointCode {
  /** Code without the number of the string, as written, e.g. `KERB` of `KERB2 ST`. */
  readonly base: string;
  /** Number of the string, e.g. `2`; empty where there is none. */
  readonly string: string;
  readonly starts: boolean;
  readonly ends: boolean;
  readonly closes: boolean;
  readonly onArc: boolean;
  readonly arcStarts: boolean;
  readonly arcEnds: boolean;
  /** Words that are neither code nor control. */
  readonly note: string;
}

/** Takes a code apart: the first word is the code, later ones are control words or a note. */
export function readCode(text: string, control: string, codes: SurveyCodes): PointCode {
  const [first = "", ...words] = text.split(/\s+/).filter((word) => word !== "");
  const controls = [...words, ...control.split(/\s+/)].map((word) => word.toLowerCase());
  const has = (list: readonly string[]) => controls.some((word) => list.includes(word));
  const all = new Set<string>([
    ...codes.start,
    ...codes.end,
    ...codes.close,
    ...codes.arc,
    ...codes.arcStart,
    ...codes.arcEnd,
  ]);
  const base = first.replace(/\d+$/, "");
  return {
    base: base === "" ? first : base,
    string: base === "" ? "" : first.slice(base.length),
    starts: has(codes.start),
    ends: has(codes.end),
    closes: has(codes.close),
    onArc: has(codes.arc),
    arcStarts: has(codes.arcStart),
    arcEnds: has(codes.arcEnd),
    note: words.filter((word) => !all.has(word.toLowerCase())).join(" "),
  };
}
