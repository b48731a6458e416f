import { setTimeout as sleep } from "node:timers/promises";

/** Where finished plots go. */
export interface PlotSink<Done> {
  /** Whether a plot is done already, of an earlier run. */
  has(number: number): boolean;
  /** Whether results may be added that cannot be passed on yet. */
  hasRoom(): boolean;
  /** Takes a result, in any order; passes on what is next in line. */
  put(number: number, done: Done): Promise<void>;
}

/** How often it is asked whether to stop, milliseconds. */
const ASK_MS = 200;

/**
 * Has plots planned, as many at once as allowed, and gives the results to the sink. Plots are taken
 * one by one from a list that may have no end; no more of them are held than are at work.
 *
 * @param most plots at work at once
 * @param checkStop throws to stop; then plots at work are left to whoever ends the workers
 */
export async function runPlots<P extends { readonly number: number }, Done>(
  plots: Iterable<P> | AsyncIterable<P>,
  plan: (plot: P) => Promise<Done>,
  sink: PlotSink<Done>,
  most: number,
  checkStop: () => void,
): Promise<void> {
  const atWork = new Set<Promise<void>>();
  let failure: { readonly error: unknown } | undefined;
  const settle = async () => {
    const waiting = new AbortController();
    const asked = sleep(ASK_MS, undefined, { signal: waiting.signal }).catch(() => {});
    await Promise.race([...atWork, asked]);
    waiting.abort();
    checkStop();
    if (failure !== undefined) throw failure.error;
  };
  for await (const plot of plots) {
    if (sink.has(plot.number)) continue;
    const work: Promise<void> = plan(plot)
      .then((done) => sink.put(plot.number, done))
      .catch((error: unknown) => {
        failure ??= { error };
      })
      .finally(() => atWork.delete(work));
    atWork.add(work);
    checkStop();
    while (atWork.size >= most || (atWork.size > 0 && !sink.hasRoom())) await settle();
    if (failure !== undefined) throw failure.error;
  }
  while (atWork.size > 0) await settle();
  if (failure !== undefined) throw failure.error;
}
