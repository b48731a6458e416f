import type { Finding } from "../model/finding.ts";
import { datumShiftOf } from "./datum-shifts.ts";
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
}

/** The datum shift to use: the published one of the datum, else the definition's own, else none. */
export function chooseShift(question: ShiftQuestion): ChosenShift {
  const { projection, name, definition, record } = question;
  const wkt = question.wkt ?? (isWkt(definition) ? definition : (record?.wkt ?? ""));
  const published = datumShiftOf([
    wktName(wkt, "DATUM"),
    wktName(wkt, "GEOGCS", "GEOGCRS", "BASEGEOGCRS"),
    record?.name.split(" / ")[0],
    /\+datum=(\S+)/.exec(definition)?.[1],
  ]);
  // A file's own numbers are meant for it; those of the register lack signs and units in places.
  const isOwn = record === undefined && /towgs84/i.test(definition);
  const used = isOwn ? undefined : published;
  if (used === undefined && isModernFigure(projection)) {
    const own = isOwn ? projection.definedShift : undefined;
    const isNull = own === undefined || own.every((value) => value === 0);
    return isNull ? { accuracyM: 0 } : { toWgs84: own, accuracyM: 1 };
  }
  const toWgs84 = used?.toWgs84 ?? projection.definedShift;
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
