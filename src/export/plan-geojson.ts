/**
 * The plan as GeoJSON (RFC 7946): one FeatureCollection in WGS 84, every feature with a `kind`.
 * docs/formats/plan-geojson.md lists the kinds and their properties.
 */
import type { Feature, FeatureCollection, Geometry, Position } from "geojson";
import { type JointPeg, jointsAtPegs } from "../handover/materials/joints.ts";
import type { Finding } from "../model/finding.ts";
import type { AreaM } from "../model/geometry.ts";
import type { Loop, Passage, PassageCost, Peg, Plan } from "../model/plan.ts";
import type { SiteGrid } from "../model/site.ts";
import type { StationFigures } from "../model/station.ts";
import type {
  EdgeFall,
  GuideOnGround,
  LengthOnGround,
  LoopOnGround,
  PegOnGround,
  PlanOnGround,
} from "../model/terrain.ts";
import { reasonsText } from "../plan/station-words.ts";
import { lineInDegrees, positionOf, ringInDegrees } from "./degrees.ts";
import { areaM2, lengthM, rounded } from "./numbers.ts";
import { orderedFindings, writtenFinding } from "./ordered-findings.ts";
import { validPolygons } from "./valid-polygons.ts";

/** The collection to write, and what was noticed while it was made. */
export interface PlanGeojson {
  readonly collection: FeatureCollection<Geometry | null>;
  readonly findings: readonly Finding[];
}

type Properties = Readonly<Record<string, unknown>>;

/**
 * Draws a plan as GeoJSON.
 *
 * @param plan everything decided, in the site grid
 * @param findings all findings to be drawn, of every step
 * @param ground the plan on the ground, where heights were given
 * @param joints of reels and guide wires, which stand on their pegs
 * @returns the collection, in which polygons are valid after rounding to 9 decimals; slivers that
 *   cannot be drawn are left out, with the finding `SLIVERS_NOT_DRAWN` where they show in the areas
 */
export function planGeojson(
  plan: Plan,
  findings: readonly Finding[],
  ground?: PlanOnGround,
  joints: readonly JointPeg[] = [],
): PlanGeojson {
  const jointAt = jointsAtPegs(joints);
  const { grid, loops } = plan;
  const areas = areaFeatures(plan, ground);
  const all = [...findings, ...areas.findings];
  const under = (index: number) => ground?.loops[index];
  const features = [
    ...loops.map((loop, i) => boundaryWire(loop, grid, under(i))),
    ...loops.flatMap((loop, i) => exclusionLoops(loop, grid, under(i))),
    ...loops.flatMap((loop, i) => pairedRuns(loop, grid, under(i))),
    ...loops.flatMap((loop, i) => guideFeatures(loop, grid, under(i), jointAt)),
    ...loops.flatMap((loop, i) =>
      loop.pegs.map((peg, k) =>
        pegFeature(loop, peg, grid, under(i)?.pegs[k], jointAt(loop.name, "boundary", peg.number)),
      ),
    ),
    ...loops.map((loop) => stationFeature(loop, grid)),
    ...loops.flatMap((loop) => stationOptions(loop, plan)),
    ...plan.passages.map((passage) => passageFeature(passage, grid)),
    ...areas.features,
    ...(ground?.falls ?? []).map((fall) => edgeFallFeature(fall, grid)),
    ...orderedFindings(all).map((finding) => findingFeature(finding, grid)),
  ];
  return { collection: { type: "FeatureCollection", features }, findings: areas.findings };
}

function feature(geometry: Geometry | null, properties: Properties): Feature<Geometry | null> {
  return { type: "Feature", geometry, properties };
}

/** The length on the ground, where heights were given. */
const groundLength = (on: LengthOnGround | undefined): Properties =>
  on ? { ground_length_m: lengthM(on.groundM) } : {};

/** Height and chainages of a peg on the ground, where heights were given. */
function pegGround(on: PegOnGround | undefined): Properties {
  if (!on) return {};
  return {
    height_m: on.heightM === undefined ? null : rounded(on.heightM, 3),
    ground_chainage_m: lengthM(on.chainageM),
    ...(on.secondChainageM === undefined
      ? {}
      : { second_ground_chainage_m: lengthM(on.secondChainageM) }),
  };
}

function boundaryWire(loop: Loop, grid: SiteGrid, on: LoopOnGround | undefined) {
  return feature(
    { type: "LineString", coordinates: ringInDegrees(loop.wire, grid) },
    {
      kind: "boundary-wire",
      loop: loop.name,
      length_m: lengthM(loop.lengthM),
      ...groundLength(on?.wire),
      direction: "anticlockwise",
      ...(loop.numberedTo === undefined ? {} : { numbered_to: loop.numberedTo }),
    },
  );
}

function exclusionLoops(loop: Loop, grid: SiteGrid, on: LoopOnGround | undefined) {
  return loop.exclusionLoops.flatMap((exclusion, i) =>
    validPolygons([{ shell: exclusion.ring, holes: [] }], grid).polygons.map((coordinates) =>
      feature(
        { type: "Polygon", coordinates },
        {
          kind: "exclusion-loop",
          loop: loop.name,
          name: exclusion.name,
          role: exclusion.role,
          length_m: lengthM(exclusion.lengthM),
          ...groundLength(on?.exclusionLoops[i]),
          things: exclusion.things,
        },
      ),
    ),
  );
}

function pairedRuns(loop: Loop, grid: SiteGrid, on: LoopOnGround | undefined) {
  return loop.pairedRuns.map((run, i) =>
    feature(
      { type: "LineString", coordinates: lineInDegrees(run.line, grid) },
      {
        kind: "paired-run",
        loop: loop.name,
        from: run.from,
        to: run.to,
        length_m: lengthM(run.lengthM),
        ...groundLength(on?.pairedRuns[i]),
      },
    ),
  );
}

/** The joints at a peg, where there are any. */
const jointProperty = (joint: string | undefined): Properties =>
  joint === undefined ? {} : { joint };

function guideFeatures(
  loop: Loop,
  grid: SiteGrid,
  on: LoopOnGround | undefined,
  jointAt: ReturnType<typeof jointsAtPegs>,
) {
  const under = (index: number): GuideOnGround | undefined => on?.guideWires[index];
  return loop.guideWires.flatMap((guide, i) => [
    feature(
      { type: "LineString", coordinates: lineInDegrees(guide.line, grid) },
      {
        kind: "guide-wire",
        loop: loop.name,
        length_m: lengthM(guide.lengthM),
        ...groundLength(under(i)),
        clearance_m: lengthM(guide.clearanceM),
        pegs: guide.pegs.length,
      },
    ),
    ...guide.pegs.map((peg, k) =>
      feature(
        { type: "Point", coordinates: positionOf(peg.atM, grid) },
        {
          kind: "guide-peg",
          loop: loop.name,
          number: peg.number,
          chainage_m: lengthM(peg.chainageM),
          ...pegGround(under(i)?.pegs[k]),
          on: peg.on,
          ...jointProperty(jointAt(loop.name, "guide", peg.number)),
        },
      ),
    ),
  ]);
}

function pegFeature(
  loop: Loop,
  peg: Peg,
  grid: SiteGrid,
  on: PegOnGround | undefined,
  joint: string | undefined,
) {
  return feature(
    { type: "Point", coordinates: positionOf(peg.atM, grid) },
    {
      kind: "peg",
      loop: loop.name,
      number: peg.number,
      chainage_m: lengthM(peg.chainageM),
      ...(peg.secondChainageM === undefined
        ? {}
        : { second_chainage_m: lengthM(peg.secondChainageM) }),
      ...pegGround(on),
      on: peg.on,
      ...jointProperty(joint),
    },
  );
}

function stationFeature({ name, station }: Loop, grid: SiteGrid) {
  return feature(
    { type: "Point", coordinates: positionOf(station.atM, grid) },
    {
      kind: "station",
      loop: name,
      bearing_deg: rounded(station.bearingDeg, 2),
      given: station.given,
      straight_m: lengthM(station.straightM),
      ...(station.figures && placeProperties(station.figures)),
    },
  );
}

/** The next best places, 1 the best of them. */
function stationOptions({ name, station }: Loop, { grid, profile }: Plan) {
  return (station.options ?? []).map(({ atM, bearingDeg, figures }, i) =>
    feature(
      { type: "Point", coordinates: positionOf(atM, grid) },
      {
        kind: "station-option",
        loop: name,
        rank: i + 1,
        bearing_deg: rounded(bearingDeg, 2),
        straight_m: lengthM(figures.straightM),
        ...placeProperties(figures),
        reasons: reasonsText(figures, profile),
      },
    ),
  );
}

/** Figures of a station's place, as `plan.geojson` and `summary.json` both have them; null: not known. */
export function placeProperties(figures: StationFigures) {
  const near = (distanceM: number | undefined) =>
    distanceM === undefined ? null : lengthM(distanceM);
  const { slopePercent, hollowM, sun, lead } = figures;
  return {
    score: rounded(figures.score, 4),
    clear_ahead_m: lengthM(figures.clearAheadM),
    slope_percent: slopePercent === undefined ? null : rounded(slopePercent, 2),
    hollow_m: near(hollowM),
    sun_h: sun ? rounded(sun.hoursADay, 2) : null,
    hot_shade: sun ? rounded(sun.hotShade, 3) : null,
    lead_m: near(lead?.lengthM),
    lead_across_lawn: lead ? lead.acrossLawn : null,
    corner_m: near(figures.cornerM),
    passage_m: near(figures.passageM),
    island_m: near(figures.islandM),
    water_m: near(figures.waterM),
    public_m: near(figures.publicM),
  };
}

function passageFeature(passage: Passage, grid: SiteGrid) {
  return feature(
    { type: "LineString", coordinates: lineInDegrees(passage.centreLine, grid) },
    { kind: "passage", ...passageProperties(passage) },
  );
}

/** Figures of a passage, as `plan.geojson` and `summary.json` both have them. */
export function passageProperties(passage: Passage) {
  return {
    number: passage.number,
    width_m: lengthM(passage.widthM),
    wire_width_m: lengthM(Math.max(0, passage.wireWidthM)),
    length_m: lengthM(passage.lengthM),
    bearing_deg: rounded(passage.bearingDeg, 2),
    verdict: passage.verdict,
    beyond_m2: areaM2(passage.beyondM2),
    islands_beyond: passage.islandsBeyond,
    openings: passage.openings.map(({ means, amountM, gives, of, sides, lengthM: edgingM }) => ({
      means,
      amount_m: lengthM(amountM),
      gives,
      ...(of === undefined ? {} : { of }),
      ...(sides === undefined ? {} : { sides }),
      ...(edgingM === undefined ? {} : { length_m: lengthM(edgingM) }),
    })),
    cost: passage.cost === undefined ? null : costProperties(passage.cost),
  };
}

function costProperties({ comesTo, areaM2: size, loop, wireM, pegs }: PassageCost) {
  return {
    comes_to: comesTo,
    area_m2: areaM2(size),
    ...(loop === undefined ? {} : { loop }),
    ...(wireM === undefined ? {} : { wire_m: lengthM(wireM) }),
    ...(pegs === undefined ? {} : { pegs }),
  };
}

function areaFeatures(plan: Plan, ground: PlanOnGround | undefined) {
  let notDrawnM2 = 0;
  const draw = (areas: readonly AreaM[], properties: Properties) => {
    const written = validPolygons(areas, plan.grid);
    notDrawnM2 += written.notDrawnM2;
    const geometry = polygonGeometry(written.polygons);
    return geometry ? [feature(geometry, properties)] : [];
  };
  const features = [
    ...plan.mown.flatMap(({ loop, part, areas, areaM2: size }) =>
      draw(areas, { kind: "mown-area", loop, area_m2: areaM2(size), part }),
    ),
    ...plan.cutOff.flatMap(({ area, areaM2: size, reason }) =>
      draw([area], { kind: "cut-off-area", area_m2: areaM2(size), reason }),
    ),
    ...(ground?.steep ?? []).flatMap(({ loop, area, areaM2: size, slopePercent }) =>
      draw([area], {
        kind: "steep-area",
        loop,
        area_m2: areaM2(size),
        slope_percent: rounded(slopePercent, 1),
      }),
    ),
    ...draw(plan.handTrim.areas, { kind: "hand-trim", area_m2: areaM2(plan.handTrim.areaM2) }),
  ];
  const shows = areaM2(notDrawnM2) > 0;
  return { features, findings: shows ? [sliversNotDrawn(notDrawnM2)] : [] };
}

function edgeFallFeature(fall: EdgeFall, grid: SiteGrid) {
  return feature(
    { type: "LineString", coordinates: lineInDegrees(fall.line, grid) },
    {
      kind: "edge-fall",
      loop: fall.loop,
      length_m: lengthM(fall.lengthM),
      fall_percent: rounded(fall.fallPercent, 1),
    },
  );
}

function polygonGeometry(polygons: readonly Position[][][]): Geometry | undefined {
  if (polygons.length === 0) return undefined;
  if (polygons.length === 1) return { type: "Polygon", coordinates: polygons[0]! };
  return { type: "MultiPolygon", coordinates: [...polygons] };
}

function sliversNotDrawn(notDrawnM2: number): Finding {
  return {
    code: "SLIVERS_NOT_DRAWN",
    severity: "info",
    message: `Slivers along the drawn areas, ${(notDrawnM2 * 1e4).toFixed(0)} cm² together, are not drawn: rounded to 9 decimals of a degree they are no valid polygons.`,
    remedy: "Nothing needs doing: the wire and the areas in the tables are not affected.",
  };
}

function findingFeature(finding: Finding, grid: SiteGrid) {
  const { code, severity, message, remedy, at, ...rest } = writtenFinding(finding, grid);
  return feature(at ? { type: "Point", coordinates: [...at] } : null, {
    kind: "finding",
    code,
    severity,
    message,
    remedy,
    ...rest,
  });
}
