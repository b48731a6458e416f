/** Name of the file that says what stays, what is lifted and what is laid anew. */
export const REVISION_FILE_NAME = "revision.geojson";
