/**
 * The site file as it stands: JSON with comments, snake_case names that end in their unit.
 *
 * The published JSON Schema (docs/schema/site.schema.json) is made from this. Unknown keys are
 * refused, so that a misspelt one cannot hide.
 */
import { z } from "zod";
import { LANGUAGES, LENGTH_UNITS, type LengthUnit, LISTS } from "../model/hand-over-options.ts";
import { PARTS_CHOICES } from "../model/plan.ts";
import { EDGE_KINDS, ROLES } from "../model/roles.ts";
import { RUN_COST_MAX } from "../model/run-ground.ts";
import { PAPER_NAMES, SCALES } from "../model/sheet.ts";
import { DRAWN_ROLES, PRICED_UNITS, STEEP_CHOICES, WEEKDAYS } from "../model/site-rules.ts";
import { HEIGHT_UNITS, type HeightUnit } from "../model/terrain.ts";
import { profileFileSchema } from "../profile/profile-file.ts";

/** Nothing is moved farther than a site is wide, metres. */
const MOVE_MAX_M = 10_000;

const metres = (least: number, most: number, text: string) =>
  z.number().min(least).max(most).describe(`${text}, metres`);
const name = (text: string) => z.string().min(1).max(1000).describe(text);

const role = z.enum(ROLES).describe("Role, see docs/roles.md");
const edge = z.enum(EDGE_KINDS).describe("What the lawn's edge is");
const setin = (text: string) => metres(0, 10, text);

const crs = z
  .union([z.number().int().min(1024).max(999_999), z.string().min(4).max(10_000)])
  .describe("Coordinate reference system: EPSG:N or its number, a PROJ string, or WKT");

const position = z
  .tuple([z.number(), z.number()])
  .describe("Longitude and latitude in degrees (WGS 84), or x and y in crs");
const spotFields = {
  at: position,
  crs: crs.optional().describe("System of the coordinates; degrees of WGS 84 where left out"),
};
const spot = z.strictObject({ name: name("Its name").optional(), ...spotFields });
const spots = z.union([spot, z.array(spot).min(1).max(1000)]);

const value = z.union([z.string(), z.number(), z.boolean()]);
const fieldFields = {
  field: name("Name of an attribute; capitals do not matter").optional(),
  is: z
    .union([value, z.array(value).min(1)])
    .optional()
    .describe("Value of the attribute, or a list of values"),
  at_least: z.number().optional().describe("Least number in the attribute"),
  at_most: z.number().optional().describe("Greatest number in the attribute"),
};

const input = z.union([
  name("File, relative to the site file"),
  z.strictObject({
    file: name("File, relative to the site file"),
    crs: crs.optional().describe("System of this file, in place of what it says itself"),
  }),
]);

const rasterFile = name("Raster of heights (GeoTIFF, ESRI ASCII grid), relative to the site file");
const terrain = z.union([
  rasterFile,
  z.strictObject({
    file: rasterFile,
    crs: crs.optional().describe("System of the raster, in place of what it says itself"),
    height_unit: z
      .enum(Object.keys(HEIGHT_UNITS) as HeightUnit[])
      .optional()
      .describe("Unit of the heights, in place of what the raster says; metres where nobody does"),
  }),
]);

const outline = z.union([
  name("Name of a layer that holds the outline"),
  z.strictObject({
    type: z.enum(["Polygon", "MultiPolygon"]),
    coordinates: z.array(z.any()).describe("As in GeoJSON, degrees of WGS 84"),
  }),
]);

const lawns = z.union([
  z.literal("all"),
  z.array(name("Name, id or #number of a lawn")).min(1),
  z.strictObject({
    names: z.array(name("Name, id or #number of a lawn")).min(1).optional(),
    ...fieldFields,
    least_area_m2: z.number().min(0).max(1e9).optional().describe("Least area, square metres"),
    inside: outline.optional().describe("Lawns of which most lies inside this outline"),
    nearest: z
      .strictObject({
        ...spotFields,
        count: z.number().int().min(1).max(10_000).optional().describe("How many; 1 if left out"),
      })
      .optional()
      .describe("The lawns nearest to a place, of those that all else leaves"),
  }),
]);

const runCost = z
  .number()
  .min(1)
  .max(RUN_COST_MAX)
  .describe("What a metre of paired run costs in it, metres on plain lawn");
const slopePercent = z.number().min(0).max(1000).describe("How steep it is, percent");

const runGroundRule = z.strictObject({
  layer: name("Layer whose areas these are").optional(),
  area: z.array(position).min(3).optional().describe("Corners of an area"),
  crs: crs.optional().describe("System of area; degrees of WGS 84 where left out"),
  name: name("What an area is called in findings").optional(),
  wire: z.literal("no").optional().describe("Paired runs and guide wires keep out"),
  run_cost: runCost.optional(),
  slope_percent: slopePercent.optional(),
});

const setAttributes = z.strictObject({
  name: z.string().optional(),
  height_m: metres(0, 200, "Height").optional(),
  diameter_m: metres(0, 100, "Diameter of a trunk, a post, a pot").optional(),
  soil_radius_m: metres(0, 100, "Bare soil round a trunk, from its middle").optional(),
  setin_m: setin("Set-in").optional(),
  width_m: metres(0, 1000, "Width of a line that stands for a strip").optional(),
  crown_m: metres(0, 100, "Diameter of a tree's crown").optional(),
  public: z.enum(["yes", "no"]).optional().describe("Whether the public comes by"),
  loop: z.enum(["yes", "no"]).optional().describe("Whether it needs an exclusion loop"),
  edge: edge.optional(),
  wire: z.enum(["yes", "no"]).optional().describe("no: paired runs and guide wires keep out"),
  run_cost: runCost.optional(),
  slope_percent: slopePercent.optional(),
});

const roleRule = z.strictObject({
  layer: name("Layer name, or the innermost folder; * stands for anything").optional(),
  ...fieldFields,
  geometry: z.enum(["area", "line", "point"]).optional(),
  role: role.optional(),
  set: setAttributes.optional().describe("Attributes to give, over those of the feature"),
});

const ring = z.array(position).min(4);
const geometry = z.union([
  z.strictObject({ type: z.literal("Point"), coordinates: position }),
  z.strictObject({ type: z.literal("LineString"), coordinates: z.array(position).min(2) }),
  z.strictObject({
    type: z.literal("MultiLineString"),
    coordinates: z.array(z.array(position).min(2)).min(1),
  }),
  z.strictObject({ type: z.literal("Polygon"), coordinates: z.array(ring).min(1) }),
  z.strictObject({
    type: z.literal("MultiPolygon"),
    coordinates: z.array(z.array(ring).min(1)).min(1),
  }),
]);
const geometryCrs = crs.optional().describe("System of geometry; degrees of WGS 84 where left out");
const shift = z.number().min(-MOVE_MAX_M).max(MOVE_MAX_M);

const featureRule = z.strictObject({
  file: name("Input that it is in, as inputs names it; any where left out").optional(),
  layer: name("Layer name, or the innermost folder; any where left out").optional(),
  number: z.number().int().min(1).optional().describe("Place in its layer, counted from 1"),
  id: z
    .union([z.string().min(1).max(1000), z.number()])
    .optional()
    .describe("Its id, as the file has it"),
  role: role.optional(),
  set: setAttributes.optional().describe("Attributes over its own and those of rules"),
  move_m: z.tuple([shift, shift]).optional().describe("How far it is moved, metres east and north"),
  geometry: geometry.optional().describe("As in GeoJSON: in place of its own"),
  crs: geometryCrs,
  remove: z.literal(true).optional().describe("It is taken out"),
});

const drawnThing = z.strictObject({
  role: z.enum(DRAWN_ROLES).describe("Role, see docs/roles.md"),
  name: name("Its name").optional(),
  geometry: geometry.describe("As in GeoJSON"),
  crs: geometryCrs,
  set: setAttributes.omit({ name: true }).optional().describe("Attributes"),
});

const edgeRule = z.strictObject({
  layer: name("Layer whose lines tell the edge").optional(),
  line: z.array(position).min(2).optional().describe("A line along the edge"),
  beside: role.optional().describe("Edge beside everything with this role"),
  crs: crs.optional().describe("System of line; degrees of WGS 84 where left out"),
  edge,
  setin_m: setin("Set-in along it").optional(),
});

const byName = <K extends string>(keys: readonly K[], text: string) =>
  z
    .strictObject(
      Object.fromEntries(keys.map((key) => [key, setin(text).optional()])) as Record<
        K,
        z.ZodOptional<z.ZodNumber>
      >,
    )
    .optional();

const setinRules = z.strictObject({
  roles: byName(ROLES, "Set-in of things with this role"),
  edges: byName(EDGE_KINDS, "Set-in along edges of this kind, in place of the profile's"),
  things: z
    .record(z.string(), setin("Set-in of the thing, lawn or edge line of this name"))
    .optional(),
});

const repair = z.strictObject({
  join_gap_m: metres(0.001, 0.5, "Lawns with at most this between them are one ground").optional(),
  spike_width_m: metres(0.0001, 0.5, "Out and back within this is a spike").optional(),
  sliver_width_m: metres(0, 0.5, "Lawn narrower than this is a sliver").optional(),
  overhang_m: metres(0, 1, "Islands that stick out over an edge this far are cut back").optional(),
  same_share: z
    .number()
    .min(0.5)
    .max(1)
    .optional()
    .describe("Shared area over joint area from which two features are one, as a share"),
  line_gap_m: metres(0, 1, "Ends of lines at most this far apart meet").optional(),
  chord_tolerance_m: metres(
    0.0001,
    0.1,
    "Chords of a curve lie at most this far from it",
  ).optional(),
  far_m: metres(10, 100_000, "A lawn farther than this from all others is a stray one").optional(),
});

const words = z.array(z.string().min(1).max(50)).max(1000).optional();
const surveyCodes = z.strictObject({
  start: words.describe("A new line begins at a point with one of these words behind its code"),
  end: words.describe("The line ends at this point"),
  close: words.describe("The line ends here and goes straight back to its first point"),
  arc: words.describe("The point lies on an arc from the one before to the one after"),
  arc_start: words.describe("An arc begins at this point"),
  arc_end: words.describe("The arc ends at this point"),
  points: words.describe("Codes whose points stay points"),
});

const prices = z.strictObject({
  currency: z
    .string()
    .regex(/^[A-Z]{3}$/, "expected a currency code of three capitals (ISO 4217), e.g. EUR")
    .describe("Currency code, ISO 4217"),
  tax_rate: z.number().min(0).max(1).optional().describe("Tax on top, as a share (0.2 is 20 %)"),
  items: z
    .array(
      z.strictObject({
        name: name("What it is called on the bill"),
        per: z.enum(PRICED_UNITS).describe("What it is counted by"),
        unit_price: z.number().min(0).max(1e6).describe("Price of one, without tax"),
        reel_m: metres(
          1,
          10_000,
          "Size of a reel: its price counts where such reels are bought",
        ).optional(),
      }),
    )
    .max(1000),
});

const clock = (text: string) =>
  z
    .string()
    .regex(/^([01]\d|2[0-3]):[0-5]\d$|^24:00$/, "expected a time of day like 08:30")
    .describe(text);
const weekdays = z.array(z.enum(WEEKDAYS)).min(1);

const schedule = z.strictObject({
  from: clock("Machines may be out from this time of day on; 08:00 where left out").optional(),
  to: clock("and until this time; 20:00 where left out").optional(),
  days: weekdays.optional().describe("Days on which they may; Monday to Saturday where left out"),
  quiet: z
    .array(
      z.strictObject({
        from: clock("Begin of a quiet time"),
        to: clock("End of it"),
        days: weekdays.optional().describe("Days that have it; all where left out"),
      }),
    )
    .max(100)
    .optional(),
  start: z
    .string()
    .regex(/^\d{4}-\d{2}-\d{2}$/, "expected a date like 2030-04-01")
    .optional()
    .describe("First day of the season: the timetable is then also written as schedule.ics"),
});

const printed = (text: string) => z.string().max(1000).optional().describe(text);

const imageFile = name("GeoTIFF, or PNG or JPEG with a world file, relative to the site file");
const sheet = z.strictObject({
  image: z
    .union([
      imageFile,
      z.strictObject({
        file: imageFile,
        crs: crs.optional().describe("System of the picture, in place of what it says itself"),
      }),
    ])
    .optional()
    .describe("Picture beneath the drawings; as --image"),
  paper: z.enum(PAPER_NAMES).optional().describe("Paper; as --sheet; chosen where left out"),
  scale: z
    .union(SCALES.map((one) => z.literal(one)))
    .optional()
    .describe("Scale: 200 for 1:200; as --scale; chosen where left out"),
  project: printed("Project in the title block; the site's name where left out"),
  client: printed("Client"),
  drawing_number: printed("Number of the drawing"),
  drawn_by: printed("Who drew it"),
  checked_by: printed("Who checked it"),
  date: printed("Date, as it is to stand there"),
  revision: printed("Revision"),
  revisions: z
    .array(
      z.strictObject({
        revision: z.string().max(100).describe("Letter or number of the revision"),
        date: printed("Its date"),
        by: printed("Whose"),
        text: printed("What was changed"),
      }),
    )
    .max(100)
    .optional()
    .describe("Earlier revisions, newest first"),
});

const monthDay = (text: string) =>
  z
    .string()
    .regex(/^(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])$/, "expected month and day like 04-01")
    .describe(text);

const sun = z.strictObject({
  zone: z
    .string()
    .min(1)
    .max(100)
    .optional()
    .describe("Time zone: an IANA name, UTC, or an offset like +02:00; as --zone"),
  from: monthDay("First day of the mowing season").optional(),
  to: monthDay("Last day of it").optional(),
  hot_from: clock("The hot hours begin; 11:00 where left out").optional(),
  hot_to: clock("They end; 16:00 where left out").optional(),
});

const inlineProfile = profileFileSchema.partial({ name: true });

/** What a site file may hold. */
export const siteFileSchema = z.strictObject({
  $schema: z.string().optional().describe("Where the JSON Schema of this file is, for editors"),
  name: name("Name of the site").optional(),
  inputs: z.array(input).min(1).max(1000).optional().describe("Files that together make the site"),
  out: name("Folder for the results, relative to the site file").optional(),
  crs: crs.optional().describe("System of inputs that do not state one; as --crs"),
  terrain: terrain.optional().describe("Heights of the ground; as --terrain"),
  profile: z
    .union([name("Built-in profile, or a file relative to the site file"), inlineProfile])
    .optional()
    .describe("The machine: name, file, or values over those of based_on"),
  lawns: lawns.optional().describe("Which lawns to plan; all where left out"),
  roles: z.array(roleRule).optional().describe("What features are; the first that fits decides"),
  features: z
    .array(featureRule)
    .max(10_000)
    .optional()
    .describe("What is said of single features: it comes before roles"),
  things: z
    .array(drawnThing)
    .max(10_000)
    .optional()
    .describe("Lawns, beds, trees and other things drawn here, beside those of the inputs"),
  edges: z.array(edgeRule).optional().describe("What the lawn's edge is; the first decides"),
  run_ground: z
    .array(runGroundRule)
    .max(10_000)
    .optional()
    .describe("Where paired runs and guide wires cost more or may not lie"),
  station: spots.optional().describe("Where the station stands, one for each part"),
  outlet: spots.optional().describe("Where an outdoor socket is"),
  parts: z
    .enum(PARTS_CHOICES)
    .optional()
    .describe(
      "Parts that the machine cannot drive to: a loop and station of their own, on the main loop's wire and carried to, or left out; own where left out",
    ),
  split: z
    .boolean()
    .optional()
    .describe("Whether lawn that is more than one loop may have is divided; true where left out"),
  loads_within: z
    .number()
    .min(0.02)
    .max(10)
    .optional()
    .describe(
      "How much more lawn the largest loop of a divided part may have than the smallest, as a share; 0.15 where left out",
    ),
  lawn_per_wire_m2: z
    .number()
    .min(0)
    .max(100)
    .optional()
    .describe("Lawn that may be given up for each metre of wire saved, square metres"),
  setin_m: setinRules.optional().describe("Set-ins over those of the profile"),
  repair: repair.optional().describe("How far repairs may go, see docs/repair.md"),
  survey_codes: surveyCodes
    .optional()
    .describe("Code words of survey points in place of the usual ones, list by list"),
  prices: prices.optional().describe("Prices, for a total in the summary"),
  sheet: sheet
    .optional()
    .describe(
      "Drawings to scale, sheet.pdf and sheet.svg: paper, scale, title block; {} is enough",
    ),
  schedule: schedule.optional().describe("When machines may be out, for the weekly timetable"),
  sun: sun.optional().describe("Compute the sun on the lawn, even where this is empty; as --sun"),
  steep: z
    .enum(STEEP_CHOICES)
    .optional()
    .describe("Ground steeper than the profile allows: told only, or shut out; tell if left out"),
  language: z
    .enum(LANGUAGES)
    .optional()
    .describe("Language of the laying guide; en where left out"),
  units: z
    .enum(Object.keys(LENGTH_UNITS) as LengthUnit[])
    .optional()
    .describe("Unit of lengths in the laying guide and the lists; m where left out"),
  lists: z.array(z.enum(LISTS)).optional().describe("Lists beside guide, materials and pegs"),
  json: z.boolean().optional().describe("As --json"),
  quiet: z.boolean().optional().describe("As --quiet"),
});
export type SiteFile = z.infer<typeof siteFileSchema>;

/** JSON Schema (draft 2020-12) of a site file, as published under docs/schema. */
export function siteJsonSchema(): Record<string, unknown> {
  const schema = z.toJSONSchema(siteFileSchema) as Record<string, unknown>;
  const { $schema, ...rest } = schema;
  return {
    $schema,
    title: "pegline site file",
    description: "What to plan and how, beside the files of a site. See docs/site-file.md.",
    allowComments: true,
    allowTrailingCommas: true,
    ...rest,
  };
}
