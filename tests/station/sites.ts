/** Five invented gardens whose station places are argued in docs/station.md. */
import type { Feature } from "geojson";
import type { InputFile } from "../../src/index.ts";
import { type Ground, gridText, rasterFile } from "../physics/terrain/rasters.ts";
import type { Xy } from "../support/plane.ts";
import { geojsonInput } from "../support/planning.ts";
import { Pen, rectangle } from "../support/sites.ts";

export interface DescribedSite {
  readonly title: string;
  readonly told: string;
  /** What a fitter with the trade's rules of thumb would say, and why. */
  readonly expected: string;
  readonly features: readonly Feature[];
  /** Heights: x east and y north of the origin, metres. */
  readonly ground?: Ground;
  readonly sun?: boolean;
}

export function heightsOf(ground: Ground): InputFile {
  return rasterFile(gridText(ground, { side: 160, cell: 0.5 }));
}

export const inputOf = ({ features }: DescribedSite): InputFile => geojsonInput(features);

const outlet = (pen: Pen, at: Xy) => pen.point(at, { role: "outlet" });

/** Lawn south of a house, terrace between them, outlet on the house wall, road in front. */
function houseGarden(): readonly Feature[] {
  const pen = new Pen();
  pen.lawn(rectangle(26, 18));
  pen.thing(rectangle(14, 8, [4, 18]), { role: "building", name: "House", height_m: 6.5 }, "firm");
  pen.add(
    { type: "LineString", coordinates: [pen.at([0, 0]), pen.at([26, 0])] },
    { role: "edge", edge: "fence", public: "yes", name: "Road" },
  );
  outlet(pen, [17.5, 18.2]);
  return pen.drawn.features;
}

/** A terrace by the house, a bank below it, level lawn at the bottom. */
function hillside(): readonly Feature[] {
  const pen = new Pen();
  pen.lawn(rectangle(30, 24, [-15, -12]));
  pen.thing(rectangle(12, 7, [-6, 12]), { role: "building", name: "House" }, "firm");
  outlet(pen, [5, 11.9]);
  return pen.drawn.features;
}

/** Two rooms of lawn with a gap between hedges; the outlet by the shed beside the gap. */
function twoRooms(): readonly Feature[] {
  const pen = new Pen();
  pen.lawn([
    ...([
      [0, 0],
      [18, 0],
      [18, 8.2],
      [22, 8.2],
      [22, 0],
      [38, 0],
    ] as Xy[]),
    ...([
      [38, 18],
      [22, 18],
      [22, 9.8],
      [18, 9.8],
      [18, 18],
      [0, 18],
    ] as Xy[]),
  ]);
  pen.thing(
    rectangle(3.4, 4, [18.3, 11]),
    { role: "building", name: "Shed", height_m: 2.5 },
    "firm",
  );
  outlet(pen, [20, 14.9]);
  return pen.drawn.features;
}

/** An L round a pond corner, beds on the lawn, outlet on the short leg. */
function pondGarden(): readonly Feature[] {
  const pen = new Pen();
  pen.lawn([
    [0, 0],
    [32, 0],
    [32, 10],
    [14, 10],
    [14, 26],
    [0, 26],
  ]);
  pen.thing(rectangle(10, 8, [15.5, 11.5]), { role: "water", name: "Pond" }, "loop", 1);
  pen.bed(rectangle(3, 2, [5, 18]), "Roses");
  pen.bed(rectangle(2, 2, [24, 4]), "Herbs");
  outlet(pen, [-1, 24]);
  return pen.drawn.features;
}

/** A house in the middle of its lawn: no lead leads round, sun from the south. */
function villa(): readonly Feature[] {
  const pen = new Pen();
  pen.lawn(rectangle(36, 30));
  pen.thing(rectangle(12, 9, [12, 12]), { role: "building", name: "House", height_m: 8 }, "firm");
  pen.point([6, 27], { role: "tree", name: "Lime", height_m: 12, crown_m: 8, diameter_m: 0.5 });
  pen.thing(rectangle(4, 5, [37.2, 18]), { role: "building", name: "Garage", height_m: 3 }, "firm");
  outlet(pen, [37.3, 20.5]);
  return pen.drawn.features;
}

export const DESCRIBED_SITES: readonly DescribedSite[] = [
  {
    title: "House garden by the road",
    told: "26 m by 18 m of lawn south of a house 6.5 m high, an outlet on its south-east corner, a road along the southern edge.",
    expected:
      "Along the house wall, near the outlet: the lead is short, and it is the side away from the road. The house throws its shade to the north, so there is none to be had here at noon.",
    features: houseGarden(),
    sun: true,
  },
  {
    title: "Hillside",
    told: "30 m by 24 m; a terrace 6 m deep by the house, below it a bank that falls 25 % for 8 m, then level lawn. The outlet is on the house.",
    expected:
      "On the terrace: it is level, and the lead is short. Never on the bank, where the machine cannot line up, and not at its foot without need, for the lead would be long.",
    features: hillside(),
    ground: (_x, y) => 100 - 0.25 * Math.min(8, Math.max(0, 6 - y)),
  },
  {
    title: "Two rooms",
    told: "Two rooms of lawn joined by a way 1.6 m wide between hedges; the outlet on the shed beside that way.",
    expected:
      "Not at the way, though the outlet is there: a machine that docks would stand in the traffic of the other room. On the nearest straight run a few metres into a room.",
    features: twoRooms(),
  },
  {
    title: "L round a pond",
    told: "An L of lawn whose inner corner holds a pond; two beds on the lawn; the outlet near the top of the western leg.",
    expected:
      "On the western edge near the outlet: far from the water and from the inner corner, clear of the beds.",
    features: pondGarden(),
  },
  {
    title: "House in the middle",
    told: "36 m by 30 m of lawn with a house 8 m high in its middle and a tall lime in the north-western corner; a garage with an outlet beside the eastern edge.",
    expected:
      "By the garage, where the lead is short and goes over no lawn. The shade of the lime would spare the battery, but a lead half round the garden is not worth it.",
    features: villa(),
    sun: true,
  },
];
