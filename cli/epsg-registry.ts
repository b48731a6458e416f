import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import type { EpsgRecord, EpsgRegistry } from "../src/crs/registry.ts";

const require = createRequire(import.meta.url);

/**
 * The EPSG register of the installed package `epsg-index`, offline: one small file a code, read when
 * it is asked for.
 */
export const epsgRegistry: EpsgRegistry = (code) => {
  if (!Number.isInteger(code) || code <= 0) return undefined;
  try {
    const path = require.resolve(`epsg-index/s/${code}.json`);
    return JSON.parse(readFileSync(path, "utf8")) as EpsgRecord;
  } catch {
    return undefined;
  }
};

/** All records at once, from the package's one large file: read only for systems without a code. */
epsgRegistry.all = () => {
  const path = require.resolve("epsg-index/all.json");
  return Object.values(JSON.parse(readFileSync(path, "utf8")) as Record<string, EpsgRecord>);
};
