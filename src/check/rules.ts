/** Every rule of the judge, in the order of its table. */
import type { Rule } from "./rule.ts";
import { closed } from "./rules/closed.ts";
import { direction } from "./rules/direction.ts";
import { exclusionLoops } from "./rules/exclusion-loops.ts";
import { firmClear } from "./rules/firm-clear.ts";
import { guideWires } from "./rules/guide-wires.ts";
import { lengths } from "./rules/lengths.ts";
import { loopArea, loopLength } from "./rules/loop-limits.ts";
import { loopSpacing } from "./rules/loop-spacing.ts";
import { mownArea } from "./rules/mown-area.ts";
import { noWire } from "./rules/no-wire.ts";
import { onLawn } from "./rules/on-lawn.ts";
import { pairGap, pairOpposite } from "./rules/pairs.ts";
import { passages } from "./rules/passages.ts";
import { chainage, pegNumbers, pegsOnWire, spans, verticesOnPegs } from "./rules/pegs.ts";
import { reach } from "./rules/reach.ts";
import { setIn } from "./rules/set-in.ts";
import { ringDirection, shutOut } from "./rules/shut-out.ts";
import { simple } from "./rules/simple.ts";
import { statedPassages } from "./rules/stated-passages.ts";
import { station, stationFront, stationStraight } from "./rules/station.ts";
import { verdicts } from "./rules/verdicts.ts";
import { winding } from "./rules/winding.ts";

export const RULES: readonly Rule[] = [
  closed,
  simple,
  winding,
  direction,
  onLawn,
  setIn,
  firmClear,
  shutOut,
  ringDirection,
  exclusionLoops,
  pairGap,
  pairOpposite,
  spans,
  pegsOnWire,
  verticesOnPegs,
  pegNumbers,
  chainage,
  lengths,
  passages,
  reach,
  statedPassages,
  verdicts,
  loopLength,
  loopArea,
  loopSpacing,
  station,
  stationStraight,
  stationFront,
  guideWires,
  noWire,
  mownArea,
];
