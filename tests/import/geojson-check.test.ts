/** The check of GeoJSON features against the package geojson-validation, a reading of RFC 7946 by others. */
import fc from "fast-check";
import gjv from "geojson-validation";
import { expect, it } from "vitest";
import { featureFault } from "../../src/import/geojson-check.ts";

const number = fc.oneof(
  { weight: 12, arbitrary: fc.double({ noNaN: true, noDefaultInfinity: true }) },
  fc.constantFrom<unknown>(null, "1", "", [2], { x: 1 }, true),
);
const position = fc.oneof(
  { weight: 12, arbitrary: fc.array(number, { minLength: 2, maxLength: 3 }) },
  fc.array(number, { maxLength: 1 }),
  fc.constantFrom<unknown>(null, 5, {}),
);
const line = fc.array(position, { minLength: 0, maxLength: 6 });
const lines = fc.array(line, { minLength: 1, maxLength: 3 });
const COORDINATES: Record<string, fc.Arbitrary<unknown>> = {
  Point: position,
  MultiPoint: line,
  LineString: line,
  MultiLineString: lines,
  Polygon: lines,
  MultiPolygon: fc.array(lines, { minLength: 1, maxLength: 2 }),
};
const geometry = fc
  .constantFrom(...Object.keys(COORDINATES))
  .chain((type) => COORDINATES[type]!.map((coordinates) => ({ type, coordinates })));
const feature = fc
  .oneof(
    {
      weight: 9,
      arbitrary: fc.oneof(
        geometry,
        fc.record({
          type: fc.constant("GeometryCollection"),
          geometries: fc.array(geometry, { maxLength: 3 }),
        }),
      ),
    },
    fc.constantFrom<unknown>(
      null,
      {},
      { type: "Circle", coordinates: [] },
      { type: "Point" },
      4,
      "x",
    ),
  )
  .map((one) => ({ type: "Feature", properties: {}, geometry: one }));

/** Rings are closed later; an open triangle has three positions. */
function isRepaired(message: string): boolean {
  return /first and last positions must be equivalent/.test(message);
}

const CODES: readonly [RegExp, string][] = [
  [/Item .* at index \d+ is invalid/s, "COORDINATE_NOT_A_NUMBER"],
  [/Position must be/, "POSITION_MALFORMED"],
  [/at least (two|four)/, "TOO_FEW_POSITIONS"],
];

it("says of 3,000 random features what others say of them", () => {
  let faulty = 0;
  fc.assert(
    fc.property(feature, (one) => {
      const own = featureFault(one);
      let theirs: string[];
      try {
        theirs = gjv.isFeature(one, true).filter((message) => !isRepaired(message));
      } catch {
        // It reads the first position of a ring before it knows that there is one.
        expect(own).toBeDefined();
        return;
      }
      const triangles = theirs.filter((message) => /at least four/.test(message)).length;
      if (triangles > 0 && JSON.stringify(one).includes("Polygon")) {
        // Three positions may be an open triangle, which is no fault of ours.
        theirs = theirs.filter((message) => !/at least four/.test(message));
        if (theirs.length === 0) return;
      }
      expect(own === undefined).toBe(theirs.length === 0);
      if (own === undefined) return;
      faulty++;
      const codes = theirs.map(
        (said) => CODES.find(([words]) => words.test(said))?.[1] ?? "FEATURE_MALFORMED",
      );
      expect([...codes, "TOO_FEW_POSITIONS"]).toContain(own.code);
    }),
    { numRuns: 3000, seed: 8 },
  );
  expect(faulty).toBeGreaterThan(300);
});
