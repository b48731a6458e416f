/** Signals that ask a command to stop, with the exit code that shells have for each (128 + number). */
const SIGNALS = { SIGHUP: 129, SIGINT: 130, SIGTERM: 143 } as const;
type Signal = keyof typeof SIGNALS;

/** Thrown where a command stops because it was asked to. */
export class Stopped extends Error {
  readonly exitCode: number;

  constructor(signal: Signal) {
    super(`Stopped by ${signal}.`);
    this.exitCode = SIGNALS[signal];
  }
}

/**
 * Does work that must not be left half done. A signal is noted, and the work stops where it next
 * asks, with what it has begun taken back. A second signal ends the process as it would elsewhere:
 * outside such work nothing is on the disk, and the system's own way is the quickest.
 *
 * @throws Stopped when a signal has come
 */
export async function stoppable<T>(work: (checkStop: () => void) => Promise<T>): Promise<T> {
  let signal: Signal | undefined;
  const checkStop = () => {
    if (signal !== undefined) throw new Stopped(signal);
  };
  const note = (given: Signal) => {
    signal ??= given;
  };
  const names = Object.keys(SIGNALS) as Signal[];
  for (const name of names) process.once(name, note);
  try {
    const value = await work(checkStop);
    checkStop();
    return value;
  } finally {
    for (const name of names) process.off(name, note);
  }
}

/**
 * Waits until a signal asks to stop, for work that has no other end.
 *
 * @param began called once signals are heard
 * @throws Stopped always
 */
export function untilStopped(began: () => void): Promise<never> {
  return new Promise((_, fail) => {
    for (const name of Object.keys(SIGNALS) as Signal[]) {
      process.once(name, () => fail(new Stopped(name)));
    }
    began();
  });
}
