/**
 * The built-in machine profiles. All three are invented: every number is typical of the trade or a
 * guess on the safe side, to be replaced from the manual of the machine at hand.
 *
 * Set-ins, passage widths, peg spacing, reel, station and slope figures: common practice, makers differ.
 * Resistances: flexible copper of 0.75, 1.0 and 1.5 mm².
 */
import type { Profile } from "../model/profile.ts";
import { profileOfFile } from "./convert.ts";
import { COPPER_OHM_PER_KM } from "./copper.ts";
import { DEFAULT_PROFILE, type ProfileName } from "./names.ts";
import type { FullProfileFile } from "./profile-file.ts";

const FLEXIBLE = COPPER_OHM_PER_KM.flexible;
const SETIN_M = {
  open: 0.3,
  wall: 0.35,
  fence: 0.35,
  hedge: 0.3,
  kerb: 0.35,
  flush: 0.1,
  water: 1,
  drop: 1,
};
const PEGS = { spacing_max_m: 1, wander_max_m: 0.15, spare_share: 0.05 };
/** What runs cost on other ground than lawn: guesses, by how much more work or risk there is. */
const RUNS = {
  run_cost_paving: 5,
  run_cost_passage: 2,
  run_cost_station: 10,
  run_cost_slope: 2,
  run_slope_from_percent: 20,
};
const WIRE = { pair_gap_m: 0.01, reel_m: 200, spare_end_m: 1, slack_share: 0.02, ...RUNS };
/** Right angles are followed as they are; a guide's clearance is a guess on the safe side. */
const CORNERS = { inner_angle_min_deg: 85, bend_radius_min_m: 0 };
const GUIDE = { wires: 0, clearance_m: 0.5 };
/** Under and round the station: common practice in words, the figures are guesses on the safe side. */
const STATION = { slope_max_percent: 5, lead_half_m: 15, away_m: 5 };
const STATION_WEIGHTS = {
  straight: 2,
  front: 2,
  level: 3,
  shade: 2,
  lead: 3,
  corner: 1,
  passage: 2,
  island: 1,
  water: 2,
  public: 2,
};
const OBSTACLES = { low_height_m: 0.1, young_trunk_m: 0.1 };

const NOTE =
  "Invented. Every number is typical: replace it from the manual of the machine at hand. " +
  "Wire resistance is the IEC 60228 class 5 limit for";

const FILES: Readonly<Record<ProfileName, FullProfileFile>> = {
  small: {
    name: "small",
    label: "Small machine (typical, invented)",
    note: `${NOTE} 0.75 mm² copper.`,
    setin_m: SETIN_M,
    passage: { drive_min_m: 0.6, mow_min_m: 1.2, report_below_m: 1.6 },
    pegs: PEGS,
    wire: { ...WIRE, ohm_per_km: FLEXIBLE["0.75"] },
    corners: CORNERS,
    guide: GUIDE,
    station: { straight_m: 1.5, clear_ahead_m: 2, fixings: 4, ...STATION },
    station_weights: STATION_WEIGHTS,
    loop: { length_max_m: 250, area_max_m2: 1000, spacing_m: 0.6 },
    mowing: { past_wire_m: 0 },
    work: {
      speed_m_per_s: 0.3,
      cut_width_m: 0.17,
      run_min: 60,
      charge_min: 60,
      slope_time_share: 0.3,
      passes_per_week: 3,
    },
    terrain: { slope_max_percent: 25, edge_slope_max_percent: 15 },
    obstacles: OBSTACLES,
  },
  medium: {
    name: "medium",
    label: "Medium machine (typical, invented)",
    note: `${NOTE} 1.0 mm² copper.`,
    setin_m: SETIN_M,
    passage: { drive_min_m: 0.9, mow_min_m: 1.6, report_below_m: 2 },
    pegs: PEGS,
    wire: { ...WIRE, ohm_per_km: FLEXIBLE["1"] },
    corners: CORNERS,
    guide: GUIDE,
    station: { straight_m: 2, clear_ahead_m: 2.5, fixings: 4, ...STATION },
    station_weights: STATION_WEIGHTS,
    loop: { length_max_m: 500, area_max_m2: 3000, spacing_m: 1 },
    mowing: { past_wire_m: 0 },
    work: {
      speed_m_per_s: 0.35,
      cut_width_m: 0.22,
      run_min: 90,
      charge_min: 60,
      slope_time_share: 0.3,
      passes_per_week: 3,
    },
    terrain: { slope_max_percent: 35, edge_slope_max_percent: 20 },
    obstacles: OBSTACLES,
  },
  large: {
    name: "large",
    label: "Large machine (typical, invented)",
    note: `${NOTE} 1.5 mm² copper.`,
    setin_m: SETIN_M,
    passage: { drive_min_m: 1.2, mow_min_m: 2, report_below_m: 2.5 },
    pegs: PEGS,
    wire: { ...WIRE, ohm_per_km: FLEXIBLE["1.5"] },
    corners: CORNERS,
    guide: { ...GUIDE, wires: 1 },
    station: { straight_m: 3, clear_ahead_m: 3, fixings: 6, ...STATION },
    station_weights: STATION_WEIGHTS,
    loop: { length_max_m: 800, area_max_m2: 6000, spacing_m: 1 },
    mowing: { past_wire_m: 0 },
    work: {
      speed_m_per_s: 0.45,
      cut_width_m: 0.28,
      run_min: 120,
      charge_min: 60,
      slope_time_share: 0.3,
      passes_per_week: 3,
    },
    terrain: { slope_max_percent: 45, edge_slope_max_percent: 25 },
    obstacles: OBSTACLES,
  },
};

/** A built-in profile in the form of a file, ready to be saved and edited. */
export function builtInFile(name: ProfileName): FullProfileFile {
  return FILES[name];
}

/** A built-in profile, ready for planning. */
export function builtInProfile(name: ProfileName = DEFAULT_PROFILE): Profile {
  return profileOfFile(FILES[name]);
}
