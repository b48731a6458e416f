/**
 * Map projections by their names in WKT 1, ESRI's dialect and WKT 2, and their parameters, as PROJ
 * strings have them. Names are compared in small letters and digits only. Sources: the method names
 * and codes of the EPSG dataset v10.076 and the parameter mappings in PROJ's documentation.
 */

/** Parameters of one system: by plain name, angles in degrees, lengths in metres. */
export class WktParameters {
  readonly #values: ReadonlyMap<string, number>;

  constructor(values: ReadonlyMap<string, number>) {
    this.#values = values;
  }

  /** The first of these that is there. */
  get(...names: string[]): number | undefined {
    for (const name of names) {
      const value = this.#values.get(name);
      if (value !== undefined) return value;
    }
    return undefined;
  }
}

type Method = (p: WktParameters) => string;

const LAT = [
  "latitudeoforigin",
  "latitudeofnaturalorigin",
  "latitudeoffalseorigin",
  "latitudeofcenter",
  "latitudeofcentre",
  "latitudeofprojectioncentre",
];
const LON = [
  "centralmeridian",
  "longitudeoforigin",
  "longitudeofnaturalorigin",
  "longitudeoffalseorigin",
  "longitudeofcenter",
  "longitudeofcentre",
  "longitudeofprojectioncentre",
  "longitudedownfrompole",
];
const SCALE = [
  "scalefactor",
  "scalefactoratnaturalorigin",
  "scalefactoroninitialline",
  "scalefactoratprojectioncentre",
  "scalefactoronpseudostandardparallel",
  "ellipsoidscalingfactor",
];
const FIRST = ["standardparallel1", "latitudeof1ststandardparallel", "latitudeofstandardparallel"];
const SECOND = ["standardparallel2", "latitudeof2ndstandardparallel"];
const AZIMUTH = [
  "azimuth",
  "azimuthofinitialline",
  "azimuthatprojectioncentre",
  "colatitudeofconeaxis",
];
const GAMMA = ["rectifiedgridangle", "anglefromrectifiedtoskewgrid", "xyplanerotation"];
const EAST = ["falseeasting", "eastingatfalseorigin", "eastingatprojectioncentre"];
const NORTH = ["falsenorthing", "northingatfalseorigin", "northingatprojectioncentre"];

/** Keys of a PROJ string with the parameters that are there. */
function proj(name: string, keys: Readonly<Record<string, number | undefined>>): string {
  const given = Object.entries(keys).filter(([, value]) => value !== undefined);
  return [`+proj=${name}`, ...given.map(([key, value]) => `+${key}=${value}`)].join(" ");
}

function origin(p: WktParameters) {
  return { x_0: p.get(...EAST) ?? 0, y_0: p.get(...NORTH) ?? 0 };
}

/** A method with the usual parameters: origin, scale, false origin. */
const plain =
  (name: string): Method =>
  (p) =>
    proj(name, {
      lat_0: p.get(...LAT) ?? 0,
      lon_0: p.get(...LON) ?? 0,
      k_0: p.get(...SCALE),
      ...origin(p),
    });

const conic =
  (name: string): Method =>
  (p) => {
    const lat0 = p.get(...LAT);
    const first = p.get(...FIRST) ?? lat0 ?? 0;
    return proj(name, {
      lat_1: first,
      lat_2: p.get(...SECOND) ?? first,
      lat_0: lat0 ?? 0,
      lon_0: p.get(...LON) ?? 0,
      k_0: p.get(...SCALE),
      ...origin(p),
    });
  };

const polar: Method = (p) => {
  const lat = p.get(...FIRST, ...LAT) ?? 90;
  const scale = p.get(...SCALE);
  return proj("stere", {
    lat_0: lat < 0 ? -90 : 90,
    ...(Math.abs(lat) < 90 ? { lat_ts: lat } : { k_0: scale ?? 1 }),
    lon_0: p.get(...LON) ?? 0,
    ...origin(p),
  });
};

const mercator: Method = (p) => {
  const parallel = p.get(...FIRST);
  return proj("merc", {
    ...(parallel === undefined ? { k_0: p.get(...SCALE) ?? 1 } : { lat_ts: parallel }),
    lon_0: p.get(...LON) ?? 0,
    ...origin(p),
  });
};

/** Oblique Mercator; the Swiss form has the azimuth 90° and is a projection of its own in PROJ. */
const oblique =
  (isAboutCentre: boolean): Method =>
  (p) => {
    const azimuth = p.get(...AZIMUTH) ?? 90;
    const gamma = p.get(...GAMMA) ?? azimuth;
    const common = { lat_0: p.get(...LAT) ?? 0, k_0: p.get(...SCALE) ?? 1, ...origin(p) };
    const lon = p.get(...LON) ?? 0;
    if (isAboutCentre && Math.abs(azimuth - 90) < 1e-9 && Math.abs(gamma - 90) < 1e-9) {
      return proj("somerc", { lon_0: lon, ...common });
    }
    const string = proj("omerc", { lonc: lon, alpha: azimuth, gamma, ...common });
    return isAboutCentre ? string : `${string} +no_uoff`;
  };

/** The one about the centre by its azimuth: the angle between grid and cone decides the axes. */
const krovak =
  (isSouthWest: boolean | undefined): Method =>
  (p) => {
    const string = proj("krovak", {
      lat_0: p.get(...LAT) ?? 49.5,
      lon_0: p.get(...LON) ?? 24.8333333333333,
      alpha: p.get(...AZIMUTH) ?? 30.2881397527778,
      k_0: p.get(...SCALE) ?? 0.9999,
      ...origin(p),
    });
    // ESRI's dialect says it by turning and mirroring: 90° and −1 for east and north.
    const turned = p.get("xyplanerotation");
    const southWest = isSouthWest ?? (turned !== undefined && turned !== 90);
    return southWest ? `${string} +axis=swu` : string;
  };

const METHODS: Readonly<Record<string, Method>> = {
  transversemercator: plain("tmerc"),
  gausskruger: plain("tmerc"),
  gaussboaga: plain("tmerc"),
  transversemercatorcomplex: plain("tmerc"),
  transversemercatorsouthorientated: (p) => `${plain("tmerc")(p)} +axis=wsu`,
  lambertconformalconic: conic("lcc"),
  lambertconformalconic1sp: conic("lcc"),
  lambertconformalconic2sp: conic("lcc"),
  lambertconicconformal1sp: conic("lcc"),
  lambertconicconformal2sp: conic("lcc"),
  lambertconicconformal2spmichigan: conic("lcc"),
  albers: conic("aea"),
  albersequalarea: conic("aea"),
  albersconicequalarea: conic("aea"),
  equidistantconic: conic("eqdc"),
  hotineobliquemercator: oblique(false),
  hotineobliquemercatorvarianta: oblique(false),
  hotineobliquemercatorazimuthnaturalorigin: oblique(false),
  rectifiedskeworthomorphicnaturalorigin: oblique(false),
  hotineobliquemercatorvariantb: oblique(true),
  hotineobliquemercatorazimuthcenter: oblique(true),
  obliquemercator: oblique(true),
  rectifiedskeworthomorphiccenter: oblique(true),
  swissobliquecylindrical: plain("somerc"),
  swissobliquemercator: plain("somerc"),
  polarstereographic: polar,
  polarstereographicvarianta: polar,
  polarstereographicvariantb: polar,
  stereographicnorthpole: polar,
  stereographicsouthpole: polar,
  stereographic: plain("stere"),
  obliquestereographic: plain("sterea"),
  doublestereographic: plain("sterea"),
  krovak: krovak(undefined),
  krovaknorthorientated: krovak(false),
  cassinisoldner: plain("cass"),
  cassini: plain("cass"),
  lambertazimuthalequalarea: plain("laea"),
  mercator: mercator,
  mercator1sp: mercator,
  mercator2sp: mercator,
  mercatorvarianta: mercator,
  mercatorvariantb: mercator,
  polyconic: plain("poly"),
  americanpolyconic: plain("poly"),
  newzealandmapgrid: plain("nzmg"),
  azimuthalequidistant: plain("aeqd"),
  gaussschreibertransversemercator: plain("gstmerc"),
  sinusoidal: plain("sinu"),
  millercylindrical: plain("mill"),
  cylindricalequalarea: (p) =>
    proj("cea", { lat_ts: p.get(...FIRST) ?? 0, lon_0: p.get(...LON) ?? 0, ...origin(p) }),
};

/** Methods that are computed on the sphere of web maps, whatever ellipsoid stands in the text. */
export const WEB_MERCATOR: ReadonlySet<string> = new Set([
  "popularvisualisationpseudomercator",
  "mercatorauxiliarysphere",
]);

/** A name in small letters and digits only. */
export function plainName(name: string): string {
  return name.toLowerCase().replace(/[^a-z0-9]/g, "");
}

/** The projection part of a PROJ string; undefined for methods that are not known here. */
export function projectionString(method: string, parameters: WktParameters): string | undefined {
  const name = plainName(method);
  if (WEB_MERCATOR.has(name)) return mercator(parameters);
  return Object.hasOwn(METHODS, name) ? METHODS[name]!(parameters) : undefined;
}
