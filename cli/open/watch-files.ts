/**
 * Tells when files change. They are looked at now and then rather than watched by the system: that
 * works on every disk, and for editors that write a new file in the place of the old one.
 */
import { stat } from "node:fs/promises";

/** Between two looks, milliseconds. */
const LOOK_MS = 250;

export interface Watch {
  /**
   * Other files from now on.
   *
   * @param state of them by `stateOf`, when they were read
   */
  watch(paths: readonly string[], state: string): void;
  end(): void;
}

/**
 * @param changed called once a change is over: when two looks in a row find the same
 */
export function watchFiles(changed: () => void, everyMs = LOOK_MS): Watch {
  let paths: readonly string[] = [];
  let seen = "";
  let last = "";
  let isLooking = false;
  const timer = setInterval(async () => {
    if (isLooking) return;
    isLooking = true;
    const asked = paths;
    const now = await stateOf(asked);
    isLooking = false;
    if (asked !== paths) return;
    const isOver = now === last && now !== seen;
    last = now;
    if (!isOver) return;
    seen = now;
    changed();
  }, everyMs);
  return {
    watch(next, state) {
      paths = [...next];
      seen = last = state;
    },
    end: () => clearInterval(timer),
  };
}

/** What tells whether files have changed: another text when one of them has. */
export async function stateOf(paths: readonly string[]): Promise<string> {
  const states = paths.map(async (path) => {
    const info = await stat(path, { bigint: true }).catch(() => undefined);
    return info ? `${info.ino} ${info.size} ${info.mtimeNs}` : "gone";
  });
  return (await Promise.all(states)).join("\n");
}
