// Pegs along the outlines of an invented estate: node tests/bench/peg-bench.mjs [SRC]
// User CPU time of fitting, first and later runs of one process, against jsts making the set-in of the
// same outlines in the same run. SRC is another copy of `src`, to compare with an earlier one.

import Coordinate from "jsts/org/locationtech/jts/geom/Coordinate.js";
import GeometryFactory from "jsts/org/locationtech/jts/geom/GeometryFactory.js";
import BufferOp from "jsts/org/locationtech/jts/operation/buffer/BufferOp.js";
import { loadSource } from "../../scripts/load-source.mjs";
import { organicEstate } from "./organic-estate.mjs";

const src = process.argv[2] ?? "src";
const { fitChords, spansOf } = await loadSource(`${src}/geometry/chord-fit/chord-fit.ts`);
const OPTIONS = { spacingM: 1, wanderM: 0.15 };
const RUNS = 5;
const METRES_PER_DEGREE = 111_195;

/** Outlines in metres, the free side on the left: the lawn anticlockwise, islands clockwise. */
function outlines({ geojson }) {
  const east = METRES_PER_DEGREE * Math.cos((48 * Math.PI) / 180);
  return geojson.features.map(({ properties, geometry }) => {
    const ring = geometry.coordinates[0].slice(1);
    if (properties.role !== "lawn") ring.reverse();
    return Float64Array.from(
      ring.flatMap(([lon, lat]) => [(lon - 8) * east, (lat - 48) * METRES_PER_DEGREE]),
    );
  });
}

function userMs(work) {
  const before = process.cpuUsage().user;
  const result = work();
  return { ms: (process.cpuUsage().user - before) / 1000, result };
}

function pegsAndWire(rings) {
  let pegs = 0;
  let wireM = 0;
  for (const ring of rings) {
    for (let i = 0; i < ring.length; i += 2) {
      const j = (i + 2) % ring.length;
      const lengthM = Math.hypot(ring[j] - ring[i], ring[j + 1] - ring[i + 1]);
      wireM += lengthM;
      pegs += spansOf(lengthM, OPTIONS.spacingM);
    }
  }
  return { pegs, wireM };
}

const rings = outlines(organicEstate({ vertices: 20_000, islands: 300, seed: 7 }));
const factory = new GeometryFactory();
const polygons = rings.map((ring) => {
  const points = [];
  for (let i = 0; i < ring.length; i += 2) points.push(new Coordinate(ring[i], ring[i + 1]));
  return factory.createPolygon(factory.createLinearRing([...points, points[0]]));
});
for (let run = 1; run <= RUNS; run++) {
  const fit = userMs(() => rings.map((ring) => fitChords(ring, OPTIONS)));
  const reference = userMs(() => polygons.map((one) => BufferOp.bufferOp(one, 0.3)));
  const { pegs, wireM } = pegsAndWire(fit.result);
  const ratio = (fit.ms / reference.ms).toFixed(2);
  console.log(
    `run ${run}: ${fit.ms.toFixed(0)} ms, jsts ${reference.ms.toFixed(0)} ms, ratio ${ratio}; ` +
      `${pegs} pegs, ${wireM.toFixed(1)} m of wire`,
  );
}
