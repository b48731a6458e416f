import { createHash } from "node:crypto";
import type { InputFile } from "../../src/model/features.ts";
import { VERSION } from "../../src/version.ts";

/** Tells one batch from another: the version, what is in the inputs, everything that was said. */
export function jobHash(inputs: readonly InputFile[], said: unknown): string {
  const hash = createHash("sha256");
  const add = (label: string, bytes: Uint8Array) => {
    hash.update(`${label.length}:${label}${bytes.length}:`).update(bytes);
  };
  for (const { name, bytes, siblings = {} } of inputs) {
    add(name, bytes);
    for (const [ending, part] of Object.entries(siblings)) add(ending, part);
  }
  return hash.update(JSON.stringify([VERSION, said])).digest("hex");
}
