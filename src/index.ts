/**
 * pegline as a library: from outlines of a site to a boundary-wire plan.
 *
 * Everything here is pure: bytes and values in, values out, in Node, a worker or a browser. The
 * usual way is `planInputs`, then `planFiles`; the steps stand alone as well.
 *
 * @packageDocumentation
 */

export { checkPlan, type Verdict } from "./check/check-plan.ts";
export type { Breach, Measure } from "./check/measure.ts";
export { RULE_IDS, type RuleId } from "./check/rule-ids.ts";
export { statedOfLayers } from "./check/stated/from-layers.ts";
export { statedOfPlan } from "./check/stated/from-plan.ts";
export type * from "./check/stated/stated-plan.ts";
export type { EpsgRecord, EpsgRegistry } from "./crs/registry.ts";
export { toSiteGrid } from "./crs/to-site-grid.ts";
export {
  type ExportedFormat,
  type ExportedPlan,
  type ExportOptions,
  exportPlan,
} from "./export/exchange/export-plan.ts";
export { FORMAT_NAMES, type FormatName } from "./export/exchange/formats.ts";
export type { OutCrs } from "./export/exchange/out-crs.ts";
export { findingsText } from "./export/findings-text.ts";
export { type HandOver, handOverFiles } from "./export/hand-over/hand-over-files.ts";
export { orderedFindings, type WrittenFinding, writtenFinding } from "./export/ordered-findings.ts";
export { PLAN_FILE_NAMES, type PlanFile, type PlanFiles, planFiles } from "./export/plan-files.ts";
export { type PlanGeojson, planGeojson } from "./export/plan-geojson.ts";
export type { PlanResult } from "./export/plan-result.ts";
export { type ResultFiles, resultFiles } from "./export/result-files.ts";
export { type Summary, summaryOf } from "./export/summary.ts";
export { summaryText } from "./export/summary-text.ts";
export { loadEngine } from "./geometry/engine.ts";
export { type Caution, cautionsFor } from "./handover/cautions.ts";
export { type GuideInput, guideOf } from "./handover/guide/build-guide.ts";
export type * from "./handover/guide/guide.ts";
export { type Materials, materialsOf } from "./handover/materials/materials.ts";
export { type PricedTotal, pricedTotal } from "./handover/prices.ts";
export { type LoopQuantities, type Quantities, quantitiesOf } from "./handover/quantities.ts";
export { type SettingOut, settingOut } from "./handover/setting-out/setting-out.ts";
export { messagesOf, type Speak, speaker } from "./handover/words/catalogue.ts";
export { type Measures, measuresOf } from "./handover/words/measures.ts";
export type { MessageKey, Messages } from "./handover/words/messages.ts";
export { READERS, type ReadOptions, readInputs, sizeRefusal } from "./import/read-inputs.ts";
export { READ_LIMITS, type ReadLimits, type ReadProgress } from "./import/reader.ts";
export { type ConvertOptions, convertPlan } from "./jobs/convert-plan.ts";
export type { InspectedInput, InspectedLayer } from "./jobs/inspection.ts";
export {
  type Checked,
  checkInputs,
  type InputOptions,
  type Inspection,
  inspectInputs,
  type PlanOptions,
  planInputs,
  readSite,
} from "./jobs/pegline.ts";
export type { TerrainInput } from "./jobs/site-heights.ts";
export * from "./model/features.ts";
export * from "./model/finding.ts";
export * from "./model/geometry.ts";
export * from "./model/hand-over-options.ts";
export * from "./model/plan.ts";
export type { Profile } from "./model/profile.ts";
export * from "./model/roles.ts";
export * from "./model/site.ts";
export * from "./model/site-rules.ts";
export * from "./model/station.ts";
export * from "./model/sun.ts";
export * from "./model/terrain.ts";
export { planSite } from "./plan/plan-site.ts";
export { builtInFile, builtInProfile } from "./profile/built-in.ts";
export { fileOfProfile, profileOfFile } from "./profile/convert.ts";
export { DEFAULT_PROFILE, PROFILE_NAMES, type ProfileName } from "./profile/names.ts";
export {
  type FullProfileFile,
  type ProfileFile,
  profileJsonSchema,
} from "./profile/profile-file.ts";
export { readProfile } from "./profile/read-profile.ts";
export { buildSite } from "./site/build-site.ts";
export { readSiteFile } from "./sitefile/read-site-file.ts";
export { type SiteFile, siteJsonSchema } from "./sitefile/site-file.ts";
export { mergeOptions, optionsOfSiteFile, type SiteFileOptions } from "./sitefile/site-options.ts";
export { VERSION } from "./version.ts";
