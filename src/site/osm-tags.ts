/**
 * What OpenStreetMap tags mean to a lawn. Keys and values as documented on the OpenStreetMap wiki
 * (https://wiki.openstreetmap.org/wiki/Map_features); widths and thicknesses are common practice,
 * used where `width` is not tagged. The first rule that fits a feature's tags and shape decides.
 */
import type { EdgeKind, Role } from "../model/roles.ts";

export type Shape = "area" | "line" | "point";

export interface TagRule {
  readonly key: string;
  /** Values apart by spaces; `*` any value but `no`. */
  readonly values: string;
  readonly shape: Shape;
  readonly role: Role;
  readonly edgeKind?: EdgeKind;
  /** Width of lines where `width` is not tagged, metres. */
  readonly widthM?: number;
  /** Diameter of points where none is tagged, metres. */
  readonly diameterM?: number;
  /** A surface that may hold others: lawn only as far as nobody has drawn the grass in it. */
  readonly umbrella?: boolean;
}

const area = (key: string, values: string, role: Role, more: Partial<TagRule> = {}): TagRule => ({
  key,
  values,
  shape: "area",
  role,
  ...more,
});
const line = (key: string, values: string, role: Role, widthM: number): TagRule => ({
  key,
  values,
  shape: "line",
  role,
  widthM,
});
const upright = (values: string, edgeKind: EdgeKind, widthM: number): TagRule => ({
  ...line("barrier", values, "firm", widthM),
  edgeKind,
});
const post = (key: string, values: string, diameterM: number): TagRule => ({
  key,
  values,
  shape: "point",
  role: "firm",
  diameterM,
});

export const TAG_RULES: readonly TagRule[] = [
  area("building", "*", "building"),
  area("leisure", "swimming_pool", "water"),
  area("amenity", "fountain", "water"),
  area("natural", "water", "water"),
  area("water", "*", "water"),
  area("waterway", "*", "water"),
  area("landuse", "basin reservoir", "water"),
  area("golf", "water_hazard lateral_water_hazard", "water"),
  area("golf", "bunker", "bed"),
  area("golf", "fairway green tee rough driving_range", "lawn"),
  area("landuse", "grass village_green", "lawn"),
  area("natural", "grassland", "lawn"),
  area("natural", "sand beach scrub shrubbery wood heath shrub", "bed"),
  area("natural", "bare_rock rock", "firm"),
  area("landuse", "flowerbed forest", "bed"),
  area("leisure", "playground dog_park", "keep-out"),
  area("landuse", "meadow orchard allotments vineyard farmland plant_nursery", "keep-out"),
  area("natural", "wetland", "keep-out"),
  area("leisure", "pitch", "lawn"),
  area("leisure", "track outdoor_seating", "paving"),
  area("leisure", "bleachers", "building"),
  area("area:highway", "*", "paving"),
  area("highway", "*", "paving"),
  area("railway", "platform", "paving"),
  area("public_transport", "platform", "paving"),
  area("amenity", "parking parking_space bicycle_parking motorcycle_parking", "paving"),
  area("man_made", "tower storage_tank water_tank silo canopy greenhouse", "building"),
  area("barrier", "wall city_wall", "firm", { edgeKind: "wall" }),
  area("barrier", "hedge", "firm", { edgeKind: "hedge" }),
  area("leisure", "garden park", "lawn", { umbrella: true }),
  area("landuse", "recreation_ground", "lawn", { umbrella: true }),
  line("highway", "footway", "paving", 1.5),
  line("highway", "path trail", "paving", 1.2),
  line("highway", "steps", "paving", 1.5),
  line("highway", "cycleway bridleway platform", "paving", 2),
  line("highway", "pedestrian service track busway", "paving", 3),
  line("highway", "residential living_street unclassified road", "paving", 5.5),
  line("highway", "tertiary tertiary_link secondary_link primary_link", "paving", 6.5),
  line("highway", "secondary primary trunk_link motorway_link", "paving", 7.5),
  line("highway", "trunk motorway", "paving", 9),
  line("golf", "path cartpath", "paving", 2),
  line("waterway", "ditch drain", "water", 1),
  line("waterway", "stream", "water", 1.5),
  line("waterway", "river canal", "water", 5),
  line("railway", "rail tram light_rail narrow_gauge", "keep-out", 3),
  upright("wall city_wall retaining_wall", "wall", 0.3),
  upright("fence guard_rail handrail chain cable_barrier", "fence", 0.1),
  upright("hedge", "hedge", 0.6),
  upright("kerb", "kerb", 0.15),
  { key: "natural", values: "tree", shape: "point", role: "tree" },
  { key: "man_made", values: "tree", shape: "point", role: "tree" },
  { key: "natural", values: "shrub", shape: "point", role: "bed", diameterM: 1 },
  post("natural", "stone rock", 1),
  post("natural", "tree_stump", 0.5),
  post("highway", "street_lamp", 0.3),
  post("man_made", "utility_pole flagpole mast street_cabinet surveillance", 0.3),
  post("power", "pole", 0.3),
  post("barrier", "bollard block rock", 0.3),
  post("amenity", "bench waste_basket recycling fountain drinking_water", 0.6),
  post("leisure", "picnic_table", 1.5),
  post("historic", "memorial monument", 1),
  post("tourism", "artwork", 1),
];

/** Keys that show that a feature is described by OpenStreetMap tags at all. */
export const TAG_KEYS: ReadonlySet<string> = new Set([
  ...TAG_RULES.map((rule) => rule.key),
  ..."@id osm_id osm_type place boundary shop office craft emergency power tourism historic".split(
    " ",
  ),
  ..."aeroway military route addr:housenumber entrance indoor geological sport".split(" "),
]);

/** Surfaces that grass grows on, or is. */
export const GRASS_SURFACES = /^(grass|natural_grass|turf)$/;

/** Loose surfaces: gravel to a mower. */
export const LOOSE_SURFACES =
  /^(gravel|fine_gravel|pebblestone|sand|woodchips|bark_mulch|rock|shells)$/;

/** Sports that are played on grass where no surface is tagged. */
export const GRASS_SPORTS =
  /(soccer|football|rugby|cricket|baseball|softball|hockey|croquet|lacrosse|polo)/;
