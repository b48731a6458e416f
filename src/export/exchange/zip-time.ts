/**
 * The time that files in archives bear: the earliest that the format has (1980), at noon so that it is
 * that day in every time zone. The same plan makes the same bytes.
 */
export const ZIP_TIME = "1980-01-01T12:00:00";

/** The time of tables that must say when they were changed. */
export const TABLE_TIME = "1980-01-01T12:00:00.000Z";
