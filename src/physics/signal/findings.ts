import type { Finding } from "../../model/finding.ts";
import type { LoopSignal } from "./signal.ts";

/** From this share of the own signal on, a neighbour's may lead the machine astray: a guess. */
const CLASH_SHARE = 0.5;

/** What a fitter should know of the signals: wrong signs (never in a sound plan), neighbours that clash. */
export function signalFindings(signals: readonly LoopSignal[]): Finding[] {
  return signals.flatMap((signal) => [...wrongSign(signal), ...clash(signal)]);
}

function wrongSign({ loop, wrongAtM, points }: LoopSignal): Finding[] {
  const [atM] = wrongAtM;
  if (!atM) return [];
  return [
    {
      code: "SIGNAL_WRONG",
      severity: "error",
      message: `The signal of loop ${loop} has the wrong sign at ${wrongAtM.length === 10 ? "ten or more" : wrongAtM.length} of ${points} places: there the machine takes outside for inside.`,
      remedy: "Do not lay this wire. It crosses itself or goes the wrong way round.",
      atM,
    },
  ];
}

function clash({ loop, clashShare, clashAtM }: LoopSignal): Finding[] {
  if (clashShare < CLASH_SHARE || !clashAtM) return [];
  return [
    {
      code: "SIGNAL_CLASH",
      severity: "warning",
      message: `Inside loop ${loop} the signal of the other loops reaches ${Math.round(100 * clashShare)} % of its own.`,
      remedy:
        "Lay the loops further apart there, or see whether the machine tells their signals apart.",
      atM: clashAtM,
    },
  ];
}
