/** What a column holds, by its heading. */
export type ColumnUse =
  | "number"
  | "easting"
  | "northing"
  | "longitude"
  | "latitude"
  | "height"
  | "code"
  | "control";

const HEADINGS: Readonly<Record<ColumnUse, string>> = {
  number:
    "number no nr num id pt ptno ptnr ptid pno point pointno pointnr pointid pointnumber pointname punkt punktnummer",
  easting: "easting eastings east e x xcoord xcoordinate coordx rechtswert rechts ost",
  northing: "northing northings north n y ycoord ycoordinate coordy hochwert hoch nord",
  longitude: "longitude lon long lng longitudedeg londeg",
  latitude: "latitude lat latitudedeg latdeg",
  height: "height elevation elev z h level rl alt altitude höhe hoehe heightm",
  code: "code codes featurecode fcode fc pcode pointcode description desc descr kode",
  control: "control controlcode ctrl linework stringcontrol",
};

const USE_OF: ReadonlyMap<string, ColumnUse> = new Map(
  Object.entries(HEADINGS).flatMap(([use, words]) =>
    words.split(" ").map((word) => [word, use as ColumnUse] as const),
  ),
);

/** Units that a heading may name in brackets, in metres (NIST SP 811 for feet). */
const UNITS: Readonly<Record<string, number>> = {
  m: 1,
  metres: 1,
  meters: 1,
  mm: 0.001,
  cm: 0.01,
  ft: 0.3048,
  feet: 0.3048,
  usft: 1200 / 3937,
  ftus: 1200 / 3937,
  ussurveyfeet: 1200 / 3937,
};

/** The columns of a table of points. */
export interface Columns {
  readonly places: Readonly<Partial<Record<ColumnUse, number>>>;
  /** Other columns, which become attributes. */
  readonly others: readonly { readonly name: string; readonly place: number }[];
  readonly isDegrees: boolean;
  /** True where the headings say only x and y, which not all countries mean alike. */
  readonly isXY: boolean;
  /** Metres in one unit, where a heading says it. */
  readonly unitM?: number;
}

function letters(text: string): string {
  return text.toLowerCase().replace(/[^\p{L}]/gu, "");
}

/** The columns that a row of headings names; undefined where it names no place. */
export function columnsOf(headings: readonly string[]): Columns | undefined {
  const places: Partial<Record<ColumnUse, number>> = {};
  const others: { name: string; place: number }[] = [];
  let unitM: number | undefined;
  for (const [place, heading] of headings.entries()) {
    const [, words = "", unit] = /^([^[(]*)(?:[[(]([^\])]*))?/.exec(heading) ?? [];
    const use = USE_OF.get(letters(words));
    if (use !== undefined && places[use] === undefined) {
      places[use] = place;
      if (use === "easting" && unit !== undefined) unitM = UNITS[letters(unit)];
    } else if (heading.trim() !== "") {
      others.push({ name: heading.trim(), place });
    }
  }
  const isGrid = places.easting !== undefined && places.northing !== undefined;
  const isDegrees = !isGrid && places.longitude !== undefined && places.latitude !== undefined;
  if (!isGrid && !isDegrees) return undefined;
  const isXY = isGrid && /^x/i.test((headings[places.easting!] ?? "").trim());
  return { places, others, isDegrees, isXY, ...(unitM === undefined ? {} : { unitM }) };
}
