/** A register cut to what one site needs, so that the site can be planned where the whole is not. */
import type { EpsgRecord, EpsgRegistry } from "./registry.ts";

/**
 * A register that answers as another does and remembers what it was asked for.
 *
 * @returns the register, and a list that grows: the records that `registryOf` needs to answer the same
 */
export function keptRegistry(whole: EpsgRegistry): {
  readonly registry: EpsgRegistry;
  readonly records: () => readonly EpsgRecord[];
} {
  const kept = new Map<string, EpsgRecord>();
  const keep = (record: EpsgRecord) => kept.set(String(record.code), record);
  const registry: EpsgRegistry = (code) => {
    const record = whole(code);
    if (record) keep(record);
    return record;
  };
  if (whole.all) registry.all = whole.all;
  registry.noted = (records) => records.forEach(keep);
  return { registry, records: () => [...kept.values()] };
}

/** A register of a few records. */
export function registryOf(records: readonly EpsgRecord[]): EpsgRegistry {
  const byCode = new Map(records.map((record) => [Number(record.code), record]));
  const registry: EpsgRegistry = (code) => byCode.get(code);
  registry.all = () => records;
  return registry;
}
