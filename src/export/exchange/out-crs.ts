/** What says the system to write in: a code, text as `--out-crs` takes it, or `site-grid`. */
export type OutCrs = number | string;

export const SITE_GRID = "site-grid";

/** `wgs84`: by the format's own rule; `lengths`: no degrees; `any`. */
export type TargetKind = "wgs84" | "lengths" | "any";
