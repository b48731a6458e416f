import type { Finding } from "../model/finding.ts";
import type { LonLat } from "../model/geometry.ts";
import { areaShiftOf } from "./area-shifts.ts";
import { type DatumShift, datumShiftOf } from "./datum-shifts.ts";
import type { Projection } from "./projection.ts";
import type { EpsgRecord } from "./registry.ts";
import { isWkt, wktName } from "./wkt.ts";

/** True for the ellipsoids of WGS 84 and GRS 80, and the sphere of web maps. */
function isModernFigure(projection: Projection): boolean {
  const { semiMajorM, semiMinorM } = projection;
  return (
    semiMajorM === 6378137 && (semiMinorM === 6378137 || Math.abs(semiMinorM - 6356752.314) < 0.001)
  );
}

/** A datum shift, how far it may be trusted, and what to say of it. */
export interface ChosenShift {
  readonly toWgs84?: readonly number[];
  readonly accuracyM: number;
  readonly finding?: Finding;
}

const SHAPE_SAFE = "Shape and lengths are not affected, only where on earth the whole site lies.";

/** What is known of the system whose shift is wanted. */
export interface ShiftQuestion {
  readonly projection: Projection;
  readonly name: string;
  readonly definition: string;
  /** WKT that names the datum, where the definition itself is a PROJ string made from it. */
  readonly wkt?: string | undefined;
  readonly record?: EpsgRecord;
  /** Where the coordinates lie, degrees: the shift is chosen for that place. */
  readonly place?: LonLat;
}

/** Accuracy where a shift is used outside the area that it was made for, metres: an estimate. */
const OUTSIDE_ACCURACY_M = 200;

/** A datum counted from another meridian, such as `NTF (Paris)`, is the same on the ground. */
function fromGreenwich(name: string | undefined): string | undefined {
  return name?.replace(
    /[ _]\(?(?:Paris|Ferro|Oslo|Jakarta|Lisbon|Bern|Brussels|Bogota|Rome|Stockholm|Athens|Madrid)\)?$/i,
    "",
  );
}

/** The published shift of the datum: the one made for the place where that is known, else the usual one. */
function publishedShift(
  names: readonly (string | undefined)[],
  place: LonLat | undefined,
): DatumShift | undefined {
  const usual = datumShiftOf(names);
  const local = place && areaShiftOf(usual?.names ?? names, place);
  if (local !== "none") return local ?? usual;
  return (
    usual && {
      ...usual,
      accuracyM: Math.max(OUTSIDE_ACCURACY_M, usual.accuracyM),
      source: `${usual.source}, which is made for another area`,
    }
  );
}

/** Realisations of NAD83 that lie a metre or two from WGS 84, by EPSG's and ESRI's names. */
const NAD83_REALISATION =
  /NAD83\((?:HARN|CSRS|NSRS2007|2011|FBN|CORS96|PA11|MA11)|(?:NAD|North_American)_1983_(?:HARN|CSRS|NSRS2007|2011|FBN|CORS96|PA11|MA11)/i;

/** For datums that are taken as WGS 84: none, unless it is known to lie beside it. */
function takenAsWgs84(name: string, wkt: string): ChosenShift {
  if (!NAD83_REALISATION.test(`${name} ${wkt}`)) return { accuracyM: 0 };
  return {
    accuracyM: 2,
    finding: {
      code: "CRS_TAKEN_AS_WGS84",
      severity: "info",
      message: `the datum of ${name} is taken as WGS 84, from which it is about 1 to 2 m away. ${SHAPE_SAFE}`,
      remedy: "Nothing to do, unless the result is laid over maps in WGS 84.",
    },
  };
}

/** The datum shift to use: the published one of the datum, else the definition's own, else none. */
export function chooseShift(question: ShiftQuestion): ChosenShift {
  const { projection, name, definition, record } = question;
  const wkt = question.wkt ?? (isWkt(definition) ? definition : (record?.wkt ?? ""));
  const named = [
    wktName(wkt, "DATUM"),
    wktName(wkt, "GEOGCS", "GEOGCRS", "BASEGEOGCRS"),
    record?.name.split(" / ")[0],
    /\+datum=(\S+)/.exec(definition)?.[1],
  ];
  const published = publishedShift([...named, ...named.map(fromGreenwich)], question.place);
  // A file's own numbers are meant for it; those of the register lack signs and units in places.
  const isOwn = record === undefined && /towgs84/i.test(definition);
  const used = isOwn ? undefined : published;
  if (used === undefined && isModernFigure(projection)) {
    const own = isOwn ? projection.definedShift : undefined;
    const isNull = own === undefined || own.every((value) => value === 0);
    return isNull ? takenAsWgs84(name, wkt) : { toWgs84: own, accuracyM: 1 };
  }
  // The register writes a shift of naught where it knows none.
  const defined = projection.definedShift;
  const isBlank = !isOwn && defined?.every((value) => value === 0) === true;
  const toWgs84 = used?.toWgs84 ?? (isBlank ? undefined : defined);
  if (toWgs84 === undefined) {
    return {
      accuracyM: 500,
      finding: {
        code: "CRS_DATUM_SHIFT_UNKNOWN",
        severity: "warning",
        message: `no shift from the datum of ${name} to WGS 84 is known here; degrees are taken as they are, so that the site may lie some hundred metres off in the world. ${SHAPE_SAFE}`,
        remedy:
          "Reproject the file to WGS 84 with a program that has the shift, if the place matters.",
      },
    };
  }
  const rotates = toWgs84.slice(3, 6).some((value) => value !== 0);
  const unproven = record !== undefined && rotates ? 200 : 5;
  const accuracyM = used?.accuracyM ?? unproven;
  const gridMissing = projection.gridFile !== undefined;
  const how = used?.source ?? "the parameters of its definition";
  return {
    toWgs84,
    accuracyM,
    finding: {
      code: gridMissing ? "CRS_GRID_SHIFT_MISSING" : "CRS_DATUM_SHIFT",
      severity: gridMissing ? "warning" : "info",
      message: gridMissing
        ? `${name} is tied to WGS 84 by a grid file (${projection.gridFile}) that is not used here; ${how} puts the site within about ${accuracyM} m of its place. ${SHAPE_SAFE}`
        : `${name} is tied to WGS 84 by ${how}, good to about ${accuracyM} m. ${SHAPE_SAFE}`,
      remedy:
        "Nothing to do, unless the result is laid over other maps: then reproject the file to WGS 84 with the national grid shift first.",
    },
  };
}
