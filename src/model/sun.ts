/** What the user says of sun and season; all of it has defaults, and those are told. */
export interface SunRules {
  /** IANA name (`Europe/Paris` and the like), `UTC`, or a fixed offset like `+02:00`; clock of the sun where left out. */
  readonly zone?: string | undefined;
  /** First and last day of the mowing season, `MM-DD`; may go over the turn of the year. */
  readonly from?: string | undefined;
  readonly to?: string | undefined;
  /** The hot hours, clock times `HH:MM`. */
  readonly hotFrom?: string | undefined;
  readonly hotTo?: string | undefined;
}

/** Direct sun on the lawn, cell by cell. */
export interface SunMap {
  /** Lower left corner of the cells in the site grid, metres. */
  readonly westM: number;
  readonly southM: number;
  readonly cellM: number;
  readonly columns: number;
  readonly rows: number;
  /** Hours of direct sun a day, row by row from the north; NaN off the lawn. */
  readonly hours: Float64Array;
}

/** The sun on a site through the mowing season. */
export interface SiteSunFigures {
  /** As the user gave it; undefined where clock times are those of the sun. */
  readonly zone: string | undefined;
  readonly from: string;
  readonly to: string;
  readonly hotFrom: string;
  readonly hotTo: string;
  /** Days of the season that were computed. */
  readonly days: number;
  /** Mean time from sunrise to sunset on level open ground, hours. */
  readonly dayLengthH: number;
  readonly map: SunMap;
}
