/**
 * PROJ strings of the register or of a file, where proj4 would misread them in silence: it takes WGS 84
 * for an ellipsoid that it does not know, metres for a unit and Greenwich for a meridian.
 */
import proj4 from "proj4";

/** Ellipsoids of PROJ that proj4 lacks (PROJ 9.1.1, `proj -le`). */
const ELLIPSOIDS: Readonly<Record<string, string>> = {
  WGS72: "+a=6378135 +rf=298.26",
  GSK2011: "+a=6378136.5 +rf=298.2564151",
  PZ90: "+a=6378136 +rf=298.25784",
  danish: "+a=6377019.2563 +rf=300",
  clrk80: "+a=6378249.145 +rf=293.4663",
};

/** Every ellipsoid, unit and meridian that proj4 does know. */
const KNOWN: Readonly<Record<string, ReadonlySet<string>>> = {
  ellps: new Set(
    (
      "MERIT SGS85 GRS80 IAU76 airy APL4 NWL9D mod_airy andrae aust_SA GRS67 bessel bess_nam clrk66 " +
      "clrk80ign clrk58 CPM delmbr engelis evrst30 evrst48 evrst56 evrst69 evrstSS fschr60 fschr60m " +
      "fschr68 helmert hough intl kaula lerch mprts new_intl plessis krass SEasia walbeck WGS60 WGS66 " +
      "WGS84 sphere"
    ).split(" "),
  ),
  units: new Set(
    "m mm cm ft us-ft fath kmi us-ch us-mi km ind-ft ind-yd mi yd ch link dm in ind-ch us-in us-yd".split(
      " ",
    ),
  ),
  pm: new Set(
    "greenwich lisbon paris bogota madrid rome bern jakarta ferro brussels stockholm athens oslo".split(
      " ",
    ),
  ),
};

/** Systems whose axes point south and west in the EPSG dataset, but not in the register's string. */
const AXES: ReadonlyMap<number, string> = new Map([
  [8044, "swu"],
  [8045, "swu"],
]);

/** The string as proj4 reads it rightly, or the word in it that nobody here understands. */
export function mendDefinition(
  text: string,
  epsg?: number,
): { definition: string } | { unknown: string } {
  if (!text.startsWith("+")) return { definition: text };
  let definition = text.replace(
    /\+ellps=(\S+)/,
    (whole, name: string) => ELLIPSOIDS[name] ?? whole,
  );
  definition = definition.replace(/\+R=(\S+)/, "+a=$1 +b=$1");
  const sphere = /\+R_\w+/.exec(definition)?.[0];
  if (sphere !== undefined) return { unknown: sphere };
  const axes = epsg === undefined ? undefined : AXES.get(epsg);
  if (axes !== undefined) definition = `${definition} +axis=${axes}`;
  for (const [key, known] of Object.entries(KNOWN)) {
    const value = new RegExp(`\\+${key}=(\\S+)`).exec(definition)?.[1];
    const isNumber = key === "pm" && value !== undefined && /^-?[\d.]+$/.test(value);
    if (value !== undefined && !isNumber && !known.has(value))
      return { unknown: `+${key}=${value}` };
  }
  const method = /\+proj=(\S+)/.exec(definition)?.[1];
  if (method !== undefined && proj4.Proj.projections.get(method) === undefined) {
    return { unknown: `+proj=${method}` };
  }
  if (method === "omerc" && !/\+alpha=/.test(definition)) {
    return { unknown: "+proj=omerc by two points" };
  }
  if (method === "nzmg")
    definition = definition.replace(/\+(ellps|datum|a|b|rf)=\S+/g, "+ellps=intl");
  return { definition: `${definition}${leftOut(definition, method)}` };
}

/**
 * Origins and scales that a string leaves out are 0 and 1 in PROJ; proj4 computes with what is not
 * there. The New Zealand Map Grid has all its constants in itself.
 */
function leftOut(definition: string, method: string | undefined): string {
  if (method === undefined || /^(longlat|latlong|geocent|utm|krovak)$/.test(method)) return "";
  const usual: Record<string, string> =
    method === "nzmg"
      ? { lat_0: "-41", lon_0: "173", x_0: "2510000", y_0: "6023150" }
      : { lat_0: "0", lon_0: "0", x_0: "0", y_0: "0", k_0: "1" };
  const has = (key: string) => new RegExp(`\\+${key}=`).test(definition);
  const skipped = (key: string) =>
    has(key) ||
    (key === "k_0" && (has("k") || has("lat_ts"))) ||
    (key === "lon_0" && method === "omerc");
  return Object.keys(usual)
    .filter((key) => !skipped(key))
    .map((key) => ` +${key}=${usual[key]}`)
    .join("");
}
