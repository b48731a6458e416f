/** Between the profile as a file has it and as the planner has it: the same numbers, other names. */
import type { Profile } from "../model/profile.ts";
import type { FullProfileFile } from "./profile-file.ts";

/** The planner's profile from a complete, checked file. */
export function profileOfFile(file: FullProfileFile): Profile {
  return {
    name: file.name,
    label: file.label,
    note: file.note,
    setinM: { ...file.setin_m },
    passage: {
      driveMinM: file.passage.drive_min_m,
      mowMinM: file.passage.mow_min_m,
      reportBelowM: file.passage.report_below_m,
    },
    pegs: {
      spacingMaxM: file.pegs.spacing_max_m,
      wanderMaxM: file.pegs.wander_max_m,
      spareShare: file.pegs.spare_share,
    },
    wire: {
      pairGapM: file.wire.pair_gap_m,
      ohmPerKm: file.wire.ohm_per_km,
      reelM: file.wire.reel_m,
      spareEndM: file.wire.spare_end_m,
      slackShare: file.wire.slack_share,
      runCostPaving: file.wire.run_cost_paving,
      runCostPassage: file.wire.run_cost_passage,
      runCostStation: file.wire.run_cost_station,
      runCostSlope: file.wire.run_cost_slope,
      runSlopeFromPercent: file.wire.run_slope_from_percent,
    },
    corners: {
      innerAngleMinDeg: file.corners.inner_angle_min_deg,
      bendRadiusMinM: file.corners.bend_radius_min_m,
    },
    guide: { wires: file.guide.wires, clearanceM: file.guide.clearance_m },
    station: {
      straightM: file.station.straight_m,
      clearAheadM: file.station.clear_ahead_m,
      fixings: file.station.fixings,
      slopeMaxPercent: file.station.slope_max_percent,
      leadHalfM: file.station.lead_half_m,
      awayM: file.station.away_m,
    },
    stationWeights: { ...file.station_weights },
    loop: {
      lengthMaxM: file.loop.length_max_m,
      areaMaxM2: file.loop.area_max_m2,
      spacingM: file.loop.spacing_m,
    },
    mowing: { pastWireM: file.mowing.past_wire_m },
    work: {
      speedMPerS: file.work.speed_m_per_s,
      cutWidthM: file.work.cut_width_m,
      runMin: file.work.run_min,
      chargeMin: file.work.charge_min,
      slopeTimeShare: file.work.slope_time_share,
      passesPerWeek: file.work.passes_per_week,
    },
    terrain: {
      slopeMaxPercent: file.terrain.slope_max_percent,
      edgeSlopeMaxPercent: file.terrain.edge_slope_max_percent,
    },
    obstacles: {
      lowHeightM: file.obstacles.low_height_m,
      youngTrunkM: file.obstacles.young_trunk_m,
    },
  };
}

/** The profile in the form of a file, complete. */
export function fileOfProfile(profile: Profile): FullProfileFile {
  const { passage, pegs, wire, corners, guide, station, loop, mowing, work, terrain, obstacles } =
    profile;
  return {
    name: profile.name,
    label: profile.label,
    note: profile.note,
    setin_m: { ...profile.setinM },
    passage: {
      drive_min_m: passage.driveMinM,
      mow_min_m: passage.mowMinM,
      report_below_m: passage.reportBelowM,
    },
    pegs: {
      spacing_max_m: pegs.spacingMaxM,
      wander_max_m: pegs.wanderMaxM,
      spare_share: pegs.spareShare,
    },
    wire: {
      pair_gap_m: wire.pairGapM,
      ohm_per_km: wire.ohmPerKm,
      reel_m: wire.reelM,
      spare_end_m: wire.spareEndM,
      slack_share: wire.slackShare,
      run_cost_paving: wire.runCostPaving,
      run_cost_passage: wire.runCostPassage,
      run_cost_station: wire.runCostStation,
      run_cost_slope: wire.runCostSlope,
      run_slope_from_percent: wire.runSlopeFromPercent,
    },
    corners: {
      inner_angle_min_deg: corners.innerAngleMinDeg,
      bend_radius_min_m: corners.bendRadiusMinM,
    },
    guide: { wires: guide.wires, clearance_m: guide.clearanceM },
    station: {
      straight_m: station.straightM,
      clear_ahead_m: station.clearAheadM,
      fixings: station.fixings,
      slope_max_percent: station.slopeMaxPercent,
      lead_half_m: station.leadHalfM,
      away_m: station.awayM,
    },
    station_weights: { ...profile.stationWeights },
    loop: {
      length_max_m: loop.lengthMaxM,
      area_max_m2: loop.areaMaxM2,
      spacing_m: loop.spacingM,
    },
    mowing: { past_wire_m: mowing.pastWireM },
    work: {
      speed_m_per_s: work.speedMPerS,
      cut_width_m: work.cutWidthM,
      run_min: work.runMin,
      charge_min: work.chargeMin,
      slope_time_share: work.slopeTimeShare,
      passes_per_week: work.passesPerWeek,
    },
    terrain: {
      slope_max_percent: terrain.slopeMaxPercent,
      edge_slope_max_percent: terrain.edgeSlopeMaxPercent,
    },
    obstacles: { low_height_m: obstacles.lowHeightM, young_trunk_m: obstacles.youngTrunkM },
  };
}
