/**
 * WKT 1 (OGC 01-009) of a system that is given as a PROJ string, for the usual projections. Systems of
 * the EPSG register have their WKT there.
 */
import { parseProjection } from "../../crs/projection.ts";

type Parameters = readonly (readonly [wkt: string, proj: string, usual: number])[];

const FALSE_ORIGIN: Parameters = [
  ["false_easting", "x_0", 0],
  ["false_northing", "y_0", 0],
];

const METHODS: Readonly<Record<string, readonly [method: string, parameters: Parameters]>> = {
  tmerc: [
    "Transverse_Mercator",
    [
      ["latitude_of_origin", "lat_0", 0],
      ["central_meridian", "lon_0", 0],
      ["scale_factor", "k", 1],
      ...FALSE_ORIGIN,
    ],
  ],
  lcc: [
    "Lambert_Conformal_Conic_2SP",
    [
      ["standard_parallel_1", "lat_1", 0],
      ["standard_parallel_2", "lat_2", 0],
      ["latitude_of_origin", "lat_0", 0],
      ["central_meridian", "lon_0", 0],
      ...FALSE_ORIGIN,
    ],
  ],
  laea: [
    "Lambert_Azimuthal_Equal_Area",
    [["latitude_of_center", "lat_0", 0], ["longitude_of_center", "lon_0", 0], ...FALSE_ORIGIN],
  ],
};

/** A UTM zone is a transverse Mercator with fixed numbers. */
function withoutUtm(text: string): string {
  const zone = Number(/\+zone=(\d+)/.exec(text)?.[1]);
  if (!/\+proj=utm\b/.test(text) || !(zone >= 1 && zone <= 60)) return text;
  const north = /\+south\b/.test(text) ? 10_000_000 : 0;
  const plain = text.replace(/\+(proj|zone)=\S+/g, "").replace(/\+south\b/, "");
  return `+proj=tmerc +lat_0=0 +lon_0=${6 * zone - 183} +k=0.9996 +x_0=500000 +y_0=${north} ${plain}`;
}

/**
 * @returns undefined for a projection that is not listed here, or text that is no PROJ string
 */
export function wktOfProj(projString: string, name: string): string | undefined {
  const text = withoutUtm(projString.trim());
  const value = (key: string) => new RegExp(`\\+${key}=(\\S+)`).exec(text)?.[1];
  const method = value("proj");
  if (!text.startsWith("+") || method === undefined) return undefined;
  if (/\+(pm|axis|gamma|alpha|lonc|lat_ts|nadgrids)=/.test(text)) return undefined;
  const { semiMajorM, semiMinorM, metresPerUnit, definedShift } = parseProjection(text);
  const flattening = semiMajorM === semiMinorM ? 0 : semiMajorM / (semiMajorM - semiMinorM);
  const isWgs84 = semiMajorM === 6378137 && Math.abs(flattening - 298.257223563) < 1e-6;
  const shift = definedShift === undefined ? "" : `,TOWGS84[${sevenOf(definedShift).join(",")}]`;
  const datum =
    isWgs84 && shift === ""
      ? 'DATUM["WGS_1984",SPHEROID["WGS 84",6378137,298.257223563]]'
      : `DATUM["unknown",SPHEROID["unknown",${semiMajorM},${flattening}]${shift}]`;
  const geographic = `GEOGCS["${isWgs84 ? "WGS 84" : "unknown"}",${datum},PRIMEM["Greenwich",0],UNIT["degree",0.0174532925199433]]`;
  if (method === "longlat" || method === "latlong") return geographic;
  const [wktMethod, parameters] = METHODS[method] ?? [];
  if (wktMethod === undefined || parameters === undefined) return undefined;
  const scale = value("k") ?? value("k_0");
  if (method === "lcc" && scale !== undefined && Number(scale) !== 1) return undefined;
  const numbers = parameters.map(([parameter, key, usual]) => {
    const given = { k: scale, lat_2: value("lat_2") ?? value("lat_1") }[key] ?? value(key) ?? usual;
    // In a PROJ string false origins are in metres, in WKT in the unit of the system.
    const unitM = parameter.startsWith("false_") ? metresPerUnit : 1;
    return `PARAMETER["${parameter}",${Number(given) / unitM}]`;
  });
  const unit = `UNIT["${metresPerUnit === 1 ? "metre" : "unit"}",${metresPerUnit}]`;
  return `PROJCS["${name}",${geographic},PROJECTION["${wktMethod}"],${numbers.join(",")},${unit},AXIS["Easting",EAST],AXIS["Northing",NORTH]]`;
}

/** Seven parameters, as WKT 1 wants them, of three or seven. */
function sevenOf(shift: readonly number[]): number[] {
  return [...shift, 0, 0, 0, 0, 0, 0, 0].slice(0, 7);
}
