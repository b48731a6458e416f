import type { PointM } from "../../model/geometry.ts";
import { WRITTEN_M } from "../allowances.ts";
import type { Case } from "../case.ts";
import { type Breach, measured, notMeasured } from "../measure.ts";
import { Boundaries } from "../necks.ts";
import type { Rule } from "../rule.ts";
import type { StatedStation } from "../stated/stated-plan.ts";

const NO_STATION = "the plan has no station";
/** A run may leave the wire 10 mm before its peg, and positions are written to 0.1 mm; metres. */
const STRAIGHT_SLACK_M = 0.011;
/** The wire itself lies within this of the front of the clear space, metres. */
const FRONT_FROM_M = 0.02;
const BEARING_SLACK_DEG = 1;

interface Placed {
  readonly loop: number;
  readonly name: string;
  readonly station: StatedStation;
}

function placed({ plan }: Case): Placed[] {
  return plan.loops.flatMap(({ name, station }, loop) =>
    station ? [{ loop, name, station }] : [],
  );
}

/** The station stands on the wire where it begins, and faces along it. */
export const station: Rule = {
  id: "station",
  code: "STATION_OFF_WIRE",
  title: "greatest distance of a station from the beginning of its wire",
  measure(court) {
    const stations = placed(court);
    if (stations.length === 0) return notMeasured("m", "at most", NO_STATION);
    let most = 0;
    const breaches: Breach[] = [];
    for (const {
      loop,
      name,
      station: { atM, bearingDeg, straightM },
    } of stations) {
      const first = court.wires.starts[loop]!;
      const begin = court.wires.pointAt(first, 0);
      const offM = Math.hypot(begin[0] - atM[0], begin[1] - atM[1]);
      most = Math.max(most, offM);
      if (offM > WRITTEN_M) {
        breaches.push({
          message: `The station of loop ${name} stands ${offM.toFixed(3)} m from the beginning of its wire.`,
          remedy: "Begin the wire at the station: lengths along it are measured from there.",
          atM,
        });
        continue;
      }
      const [e, n] = direction(court, first);
      if (bearingDeg !== undefined) {
        const turn = (bearingDeg - (Math.atan2(e, n) * 180) / Math.PI + 720) % 360;
        if (Math.min(turn, 360 - turn) > BEARING_SLACK_DEG) {
          breaches.push({
            message: `The station of loop ${name} is stated to face ${bearingDeg.toFixed(1)}°; the wire leaves it at ${(((Math.atan2(e, n) * 180) / Math.PI + 360) % 360).toFixed(1)}°.`,
            remedy: "Turn the station along the wire.",
            atM,
          });
        }
      }
      if (straightM !== undefined) {
        const is = straightAt(court, loop);
        if (straightM > is + STRAIGHT_SLACK_M) {
          breaches.push({
            message: `The station of loop ${name} is stated to have ${straightM.toFixed(2)} m of straight wire on each side; it has ${is.toFixed(2)} m.`,
            remedy: "Correct the figure, or move the station.",
            atM,
          });
        }
      }
    }
    return measured("m", "at most", most, WRITTEN_M, breaches);
  },
};

function direction({ wires }: Case, s: number): PointM {
  const lengthM = wires.segmentM(s);
  const [ae, an] = wires.pointAt(s, 0);
  const [be, bn] = wires.pointAt(s, 1);
  return lengthM === 0 ? [0, 0] : [(be - ae) / lengthM, (bn - an) / lengthM];
}

/** Pegs in a row stand within this of a straight line, metres. */
const LINE_M = 0.002;

/** Straight wire on the shorter side of the beginning of a loop, metres. */
function straightAt(court: Case, loop: number): number {
  const { wires } = court;
  const first = wires.starts[loop]!;
  const [ue, un] = direction(court, first);
  const origin = wires.pointAt(first, 0);
  const reach = (step: (s: number) => number, from: number, end: 0 | 1, sign: number): number => {
    let farM = 0;
    for (let s = from, k = 0; k < wires.starts[loop + 1]! - first; s = step(s), k++) {
      const [e, n] = wires.pointAt(s, end);
      const along = sign * ((e - origin[0]) * ue + (n - origin[1]) * un);
      const off = Math.abs((e - origin[0]) * un - (n - origin[1]) * ue);
      if (off > LINE_M + 1e-3 * along || along < farM) break;
      farM = along;
    }
    return farM;
  };
  return Math.min(
    reach((s) => wires.next(s), first, 1, 1),
    reach((s) => wires.previous(s), wires.previous(first), 0, -1),
  );
}

/** Straight wire on both sides of the station, as the profile wants it. */
export const stationStraight: Rule = {
  id: "station-straight",
  code: "STATION_NOT_STRAIGHT",
  title: "least straight wire on each side of a station",
  measure(court) {
    return measureChosen(court, "straight");
  },
};

/** Open lawn in front of the station, as the profile wants it. */
export const stationFront: Rule = {
  id: "station-front",
  code: "STATION_FRONT_NOT_CLEAR",
  title: "least clear depth in front of a station",
  measure(court) {
    return measureChosen(court, "front");
  },
};

/**
 * What the profile wants is asked of a station that was chosen where the loop has a place with both;
 * where it has none, or the user placed the station, the figure is shown and nothing asked.
 */
function measureChosen(court: Case, what: "straight" | "front") {
  const stations = placed(court);
  if (stations.length === 0) return notMeasured("m", "at least", NO_STATION);
  const { straightM: wantedM, clearAheadM } = court.profile.station;
  const allowed = what === "straight" ? wantedM : clearAheadM;
  const bounds = new Boundaries(court);
  let least = Infinity;
  let excused = 0;
  const breaches: Breach[] = [];
  for (const {
    loop,
    name,
    station: { atM, given },
  } of stations) {
    const straightM = straightAt(court, loop);
    const frontM = clearDepthM(court, bounds, loop, Math.min(straightM, wantedM));
    const is = what === "straight" ? straightM : frontM;
    least = Math.min(least, is);
    if (is >= allowed - STRAIGHT_SLACK_M) continue;
    if (given === true || !hasBetter(court, bounds, loop)) {
      excused++;
      continue;
    }
    breaches.push({
      message:
        what === "straight"
          ? `The station of loop ${name} has ${is.toFixed(2)} m of straight wire on each side; ${allowed.toFixed(2)} m are wanted, and the loop has a place with them.`
          : `The lawn in front of the station of loop ${name} is clear for ${is.toFixed(2)} m; ${allowed.toFixed(2)} m are wanted, and the loop has a place with them.`,
      remedy: "Move the station along the wire to a straight run with open lawn in front.",
      atM,
    });
  }
  const note =
    excused > 0
      ? `nothing asked of ${excused} that the user placed or whose loop has no better place`
      : undefined;
  return measured("m", "at least", least, allowed, breaches, note);
}

/** Clear depth in front of (left of) a segment's place, as wide as the straight run, up to the profile's. */
function clearDepthM(
  court: Case,
  bounds: Boundaries,
  loop: number,
  halfM: number,
  s = court.wires.starts[loop]!,
  share = 0,
): number {
  const { wires, profile } = court;
  const mostM = profile.station.clearAheadM;
  const [ue, un] = direction(court, s);
  const [e, n] = wires.pointAt(s, share);
  const reachM = Math.hypot(halfM, mostM);
  let depthM = mostM;
  const { ends } = bounds.tree;
  for (const t of bounds.tree.around(e, n, e, n, reachM)) {
    const k = 4 * t;
    // The machine drives over a pair as over lawn.
    if (t < bounds.wireCount && wires.isPaired(t, 0.5)) continue;
    // In the station's frame: along the wire, and in front of it.
    const local = (i: number): PointM => [
      (ends[i]! - e) * ue + (ends[i + 1]! - n) * un,
      (ends[i + 1]! - n) * ue - (ends[i]! - e) * un,
    ];
    const [a, b] = [local(k), local(k + 2)];
    // The part of it within the width of the space.
    const width = Math.max(0, halfM - FRONT_FROM_M);
    const clipped = clip(a, b, width);
    if (!clipped) continue;
    const [low, high] = [Math.min(...clipped), Math.max(...clipped)];
    if (high > FRONT_FROM_M && low < depthM) depthM = Math.max(FRONT_FROM_M, low);
  }
  return depthM;
}

/** Depths of a segment's two ends after cutting it to |along| ≤ width. */
function clip(a: PointM, b: PointM, width: number): [number, number] | undefined {
  let [t0, t1] = [0, 1];
  const d = b[0] - a[0];
  if (d === 0) {
    if (Math.abs(a[0]) > width) return undefined;
  } else {
    const one = (-width - a[0]) / d;
    const other = (width - a[0]) / d;
    t0 = Math.max(t0, Math.min(one, other));
    t1 = Math.min(t1, Math.max(one, other));
    if (t0 > t1) return undefined;
  }
  return [a[1] + t0 * (b[1] - a[1]), a[1] + t1 * (b[1] - a[1])];
}

/** A better place is one beyond doubt: straight to rounding. */
const SURELY_STRAIGHT_M = 0.0002;
/** Longest straight runs that are looked at. */
const RUNS_TRIED = 40;

/** Whether another place of a loop has the straight run and the clear front in full. */
function hasBetter(court: Case, bounds: Boundaries, loop: number): boolean {
  const { wires, profile } = court;
  const wantedM = profile.station.straightM;
  // The station stands on a peg: there is one within half a span of the middle.
  const leastM = 2 * wantedM + profile.pegs.spacingMaxM;
  const runs: { from: number; lengthM: number }[] = [];
  const first = wires.starts[loop]!;
  const last = wires.starts[loop + 1]!;
  for (let s = first; s < last; ) {
    const [ue, un] = direction(court, s);
    const [e, n] = wires.pointAt(s, 0);
    let lengthM = 0;
    let t = s;
    for (; t < last; t++) {
      const [be, bn] = wires.pointAt(t, 1);
      const along = (be - e) * ue + (bn - n) * un;
      const off = Math.abs((be - e) * un - (bn - n) * ue);
      if (off > SURELY_STRAIGHT_M || along <= lengthM || wires.isPaired(t, 0.5)) break;
      // Nobody puts the station where the machine must be carried to, nor by an island.
      if (court.carried.partOf(t) !== 0 || !wires.isOuter(t)) break;
      lengthM = along;
    }
    if (lengthM >= leastM) runs.push({ from: s, lengthM });
    s = Math.max(t, s + 1);
  }
  runs.sort((a, b) => b.lengthM - a.lengthM);
  return runs.slice(0, RUNS_TRIED).some(({ from, lengthM }) => {
    let s = from;
    let leftM = lengthM / 2;
    for (; leftM > wires.segmentM(s); s++) leftM -= wires.segmentM(s);
    const share = leftM / wires.segmentM(s);
    const depthM = clearDepthM(court, bounds, loop, wantedM, s, share);
    return depthM >= profile.station.clearAheadM - 1e-6;
  });
}
