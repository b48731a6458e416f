/** Makes a failing case smaller while it fails in the same way. */
import type { Parts } from "./seeds.ts";

/**
 * Takes out stretches, half of a part first and then ever shorter ones, as long as the case still
 * fails (delta debugging after Zeller and Hildebrandt 2002, without its complements).
 *
 * @param fails whether the parts fail as the case did
 * @param triesMax how often that may be asked
 */
export async function minimised(
  parts: Parts,
  fails: (parts: Parts) => Promise<boolean>,
  triesMax = 400,
): Promise<Parts> {
  let best: Record<string, Uint8Array> = { ...parts };
  let tries = 0;
  const attempt = async (ending: string, bytes: Uint8Array | undefined): Promise<boolean> => {
    if (++tries > triesMax) return false;
    const next = { ...best };
    if (bytes === undefined) delete next[ending];
    else next[ending] = bytes;
    if (!(await fails(next))) return false;
    best = next;
    return true;
  };
  const endings = Object.keys(parts);
  for (const ending of endings.slice(1)) await attempt(ending, undefined);
  for (const ending of Object.keys(best)) {
    let length = best[ending]!.length >> 1;
    while (length >= 1 && tries < triesMax) {
      let shrank = false;
      for (let at = 0; at < best[ending]!.length; ) {
        const bytes = best[ending]!;
        const rest = new Uint8Array([...bytes.subarray(0, at), ...bytes.subarray(at + length)]);
        if (await attempt(ending, rest)) shrank = true;
        else at += length;
        if (tries >= triesMax) break;
      }
      if (!shrank || length > best[ending]!.length) length >>= 1;
    }
  }
  return best;
}
