/** What results call the tool, and how results of ours are recognised. */
export const TOOL = "pegline";

/** Version of the package; a test keeps it equal to package.json. */
export const VERSION = "0.1.0";
