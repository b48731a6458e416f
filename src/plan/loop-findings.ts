/** What the user is told of each loop. */
import { ringContains } from "../geometry/rings.ts";
import type { Finding } from "../model/finding.ts";
import type { Profile } from "../model/profile.ts";
import type { RunGround } from "../model/run-ground.ts";
import type { Site } from "../model/site.ts";
import type { PlaceKnowledge } from "../model/station.ts";
import * as say from "./findings.ts";
import { ledRound } from "./ground-findings.ts";
import type { LoopDraft } from "./loop.ts";
import { stationChosen, stationPoor } from "./station-words.ts";

/** Loops of one part that was divided count as one. */
export function partFindings(drafts: readonly LoopDraft[], partOf: readonly number[]): Finding[] {
  const firsts = drafts.filter((_, i) => partOf[i] !== partOf[i - 1]);
  if (firsts.length < 2) return [];
  const names = firsts.map((d) => d.loop.name);
  return [say.partsFinding(firsts.length, names, firsts[1]!.loop.station.atM)];
}

/** What there is to say of one loop: its station, islands, runs, limits and bends. */
export function loopFindings(
  draft: LoopDraft,
  mownM2: number,
  site: Site,
  runGround: readonly RunGround[],
  profile: Profile,
  known: PlaceKnowledge,
): Finding[] {
  const { loop, station } = draft;
  const findings: Finding[] = [];
  const figures = loop.station.figures ?? station.figures;
  if (!station.given) findings.push(stationChosen(loop, figures, known, profile));
  else {
    findings.push(...stationPoor(loop, figures, profile));
    const nearest = Math.min(
      ...site.stations.map((s) => Math.hypot(s.atM[0] - station.atM[0], s.atM[1] - station.atM[1])),
    );
    if (nearest > 0.5) findings.push(say.stationMoved(loop.name, nearest, station.atM));
  }
  if (station.straightM < profile.station.straightM - 0.01 || !station.clear) {
    findings.push(
      say.stationTight(loop.name, station.straightM, station.clear, profile, station.atM),
    );
  }
  for (const island of loop.exclusionLoops) {
    if (island.things.length > 1) {
      findings.push(say.islandsMerged(island.things, [island.ring[0]!, island.ring[1]!]));
    }
  }
  for (const run of loop.pairedRuns) {
    if (run.lengthM > Math.hypot(...ends(run.line)) + 0.001) {
      const round = ledRound(run.line, runGround);
      findings.push(say.pairedRunBends(run.from, run.to, round, [run.line[0]!, run.line[1]!]));
    }
  }
  if (loop.lengthM > profile.loop.lengthMaxM) {
    findings.push(say.loopTooLong(loop.name, loop.lengthM, profile.loop.lengthMaxM, station.atM));
  }
  if (mownM2 > profile.loop.areaMaxM2) {
    findings.push(say.loopTooLarge(loop.name, mownM2, profile.loop.areaMaxM2, station.atM));
  }
  if (draft.tightBends.length > 0) {
    const radiusM = profile.corners.bendRadiusMinM;
    const names = loop.exclusionLoops
      .filter(({ ring }) => draft.tightBends.some(([e, n]) => ringContains(ring, e, n)))
      .map((island) => island.name);
    findings.push(say.bendsTight(loop.name, radiusM, draft.tightBends, names));
  }
  if (draft.unsoundAtM) findings.push(say.wireCrosses(loop.name, draft.unsoundAtM));
  return findings;
}

function ends(line: Float64Array): [number, number] {
  const n = line.length;
  return [line[n - 2]! - line[0]!, line[n - 1]! - line[1]!];
}
