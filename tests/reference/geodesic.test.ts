/**
 * The measuring rod of the tests, geographiclib-geodesic, against the geodesic test set of its author
 * (C. Karney, GeodTest.dat, https://doi.org/10.5281/zenodo.32156; its first hundred lines): places,
 * azimuths, lengths to 0.1 nm, and the reduced length, by which an azimuth turns the far end. And the site grid against the geodesic, at the places of that set.
 */
import { existsSync, readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { makeSiteGrid } from "../../src/crs/site-grid.ts";
import { geodesicBetween, planeAt } from "../support/plane.ts";

const FILE = "../shared/data/reference/geographiclib/GeodTest-100.dat";
const isHere = existsSync(FILE);
const reason = isHere ? "" : " (skipped: the geodesic test set is not beside this checkout)";

/** The grid is made for sites; the set has lines of up to half the earth. */
const SITE_M = 5000;

describe(`the geodesic test set${reason}`, () => {
  const lines = isHere
    ? readFileSync(FILE, "utf8")
        .trim()
        .split("\n")
        .map((line) => line.split(/\s+/).map(Number))
    : [];

  it.skipIf(!isHere)(
    "is met by the measuring rod: lengths and azimuths to 15 nm at the far end",
    () => {
      let [passed, failed] = [0, 0];
      for (const [lat1, lon1, azi1, lat2, lon2, , s12, , m12] of lines as [number, ...number[]][]) {
        const { distanceM, azimuthDeg } = geodesicBetween([lon1!, lat1], [lon2!, lat2!]);
        const turn = Math.abs(((azimuthDeg - azi1! + 540) % 360) - 180);
        const asideM = ((turn * Math.PI) / 180) * Math.abs(m12!);
        // 15 nm is what the documentation of GeographicLib promises.
        if (Math.abs(distanceM - s12!) <= 15e-9 && asideM <= 15e-9) passed++;
        else failed++;
      }
      console.info(`geodesics: ${passed} passed, ${failed} failed, 0 not applicable.`);
      expect([passed, failed]).toEqual([100, 0]);
    },
  );

  it.skipIf(!isHere)("is where the site grid is true to 1 ppm along its azimuths", () => {
    // From each place in the direction of its line as far as a site reaches: the geodesic's own
    // direct problem says where that is, the grid how far.
    let worst = 0;
    for (const [lat1, lon1, azi1] of lines as [number, number, number][]) {
      const plane = planeAt([lon1, lat1]);
      const angle = (azi1 * Math.PI) / 180;
      const there = plane.toDegrees([SITE_M * Math.sin(angle), SITE_M * Math.cos(angle)]);
      const grid = makeSiteGrid({ west: lon1, east: lon1, south: lat1, north: lat1 });
      const [a, b] = [grid.forward([lon1, lat1]), grid.forward([there[0]!, there[1]!])];
      const lengthM = Math.hypot(b[0] - a[0], b[1] - a[1]);
      worst = Math.max(worst, Math.abs(lengthM / SITE_M - 1));
    }
    console.info(`site grid: worst scale error ${(1e6 * worst).toFixed(3)} ppm at ${SITE_M} m.`);
    expect(worst).toBeLessThan(1e-6);
    expect(worst).toBeGreaterThan(0);
  });
});
