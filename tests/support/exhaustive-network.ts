/**
 * Shortest network over a few rings, found the long way: every full tree (rings at its leaves,
 * junctions of three elsewhere) over every subset of rings, and then the cheapest way to join full
 * trees at rings until all hang together (Gilbert and Pollak 1968; Warme, Winter and Zachariasen,
 * Exact algorithms for plane Steiner tree problems, 2000; from memory). Shares no code with the
 * program.
 *
 * A tree is left out only where no shortest network can hold it: no edge of one is longer than the
 * bottleneck of any two rings that it parts (the longest link between them in the spanning tree),
 * else that link would take its place. Legs may pass through other rings, which makes the reference
 * no longer than the optimum. Each tree is brought to its least length by steps of Weiszfeld (1937);
 * for rings that are not convex that is the least near where it began.
 */
export type Place = readonly [number, number];

interface Rooted {
  /** Leaf: number of a ring. Else the two below. */
  readonly ring: number;
  readonly below: readonly [Rooted, Rooted] | undefined;
  readonly set: number;
  /** For each ring in it, the most that the way from it up to the root can be. */
  readonly wayM: ReadonlyMap<number, number>;
}

/**
 * @param rings at most nine rings that do not meet, east and north by turns
 * @param ringDistance exact distance of two rings by number
 */
export function exhaustiveNetworkM(
  rings: readonly Float64Array[],
  ringDistance: (a: number, b: number) => number,
): number {
  const k = rings.length;
  if (k < 2) return 0;
  const gap = rings.map((_, a) => rings.map((__, b) => (a === b ? 0 : ringDistance(a, b))));
  const bottleneck = bottlenecks(gap);
  const full = (1 << k) - 1;
  const best = new Float64Array(full + 1).fill(Infinity);
  for (let set = 1; set <= full; set++) {
    const members = membersOf(set);
    if (members.length === 1) best[set] = 0;
    else if (members.length === 2) best[set] = gap[members[0]!]![members[1]!]!;
    else best[set] = bestFullTree(rings, members, gap, bottleneck);
  }
  // Two networks that share one ring make one: in order of the sets, so that parts come first.
  for (let set = 1; set <= full; set++) {
    for (const shared of membersOf(set)) {
      const rest = set & ~(1 << shared);
      for (let part = (rest - 1) & rest; part > 0; part = (part - 1) & rest) {
        const one = best[part | (1 << shared)]!;
        const other = best[(rest & ~part) | (1 << shared)]!;
        if (one + other < best[set]!) best[set] = one + other;
      }
    }
  }
  return best[full]!;
}

function membersOf(set: number): number[] {
  const members: number[] = [];
  for (let i = 0; 1 << i <= set; i++) if (set & (1 << i)) members.push(i);
  return members;
}

/** Longest link of the spanning tree between any two, the least over all ways (Floyd's recursion). */
function bottlenecks(gap: readonly (readonly number[])[]): number[][] {
  const most = gap.map((row) => [...row]);
  for (let m = 0; m < gap.length; m++) {
    for (let a = 0; a < gap.length; a++) {
      for (let b = 0; b < gap.length; b++) {
        most[a]![b] = Math.min(most[a]![b]!, Math.max(most[a]![m]!, most[m]![b]!));
      }
    }
  }
  return most;
}

/** Length of the shortest full tree over some rings; Infinity where none can be of use. */
function bestFullTree(
  rings: readonly Float64Array[],
  members: readonly number[],
  gap: readonly (readonly number[])[],
  bottleneck: readonly (readonly number[])[],
): number {
  const treeM = spanningM(members, gap);
  const whole = members.reduce((set, i) => set | (1 << i), 0);
  const edgeMost = (set: number): number => {
    let least = Infinity;
    for (const a of membersOf(set)) {
      for (const b of membersOf(whole & ~set)) least = Math.min(least, bottleneck[a]![b]!);
    }
    return least;
  };
  const root = members[members.length - 1]!;
  const under = new Map<number, Rooted[]>();
  for (const ring of members.slice(0, -1)) {
    const wayM = new Map([[ring, 0]]);
    under.set(1 << ring, [{ ring, below: undefined, set: 1 << ring, wayM }]);
  }
  const rest = whole & ~(1 << root);
  for (let set = 1; set <= rest; set++) {
    if ((set & ~rest) !== 0 || (set & (set - 1)) === 0) continue;
    const lowest = set & -set;
    const made: Rooted[] = [];
    for (let part = set; part > 0; part = (part - 1) & set) {
      if ((part & lowest) === 0 || part === set) continue;
      const [upM, otherUpM] = [edgeMost(part), edgeMost(set & ~part)];
      for (const one of under.get(part) ?? []) {
        for (const other of under.get(set & ~part) ?? []) {
          if (!mayMeet(one, upM, other, otherUpM, gap)) continue;
          const wayM = new Map<number, number>();
          for (const [ring, m] of one.wayM) wayM.set(ring, m + upM);
          for (const [ring, m] of other.wayM) wayM.set(ring, m + otherUpM);
          made.push({ ring: -1, below: [one, other], set, wayM });
        }
      }
    }
    under.set(set, made);
  }
  const upM = edgeMost(rest);
  let best = Infinity;
  for (const tree of under.get(rest) ?? []) {
    if (![...tree.wayM].every(([ring, m]) => gap[ring]![root]! <= m + upM + 1e-9)) continue;
    best = Math.min(best, leastLengthM(rings, tree, root, treeM));
  }
  return best < treeM ? best : Infinity;
}

function mayMeet(
  one: Rooted,
  upM: number,
  other: Rooted,
  otherUpM: number,
  gap: readonly (readonly number[])[],
): boolean {
  for (const [a, m] of one.wayM) {
    for (const [b, n] of other.wayM) if (gap[a]![b]! > m + upM + n + otherUpM + 1e-9) return false;
  }
  return true;
}

/** Prim's tree (1957) over some rings. */
function spanningM(members: readonly number[], gap: readonly (readonly number[])[]): number {
  const left = new Set(members.slice(1));
  const near = new Map([...left].map((i) => [i, gap[members[0]!]![i]!]));
  let sum = 0;
  while (left.size > 0) {
    const next = [...left].reduce((a, b) => (near.get(b)! < near.get(a)! ? b : a));
    sum += near.get(next)!;
    left.delete(next);
    for (const i of left) near.set(i, Math.min(near.get(i)!, gap[next]![i]!));
  }
  return sum;
}

const SWEEPS = 400;

/** Moves the junctions of a tree until it is shortest; gives up where it will not come below `limitM`. */
function leastLengthM(
  rings: readonly Float64Array[],
  tree: Rooted,
  root: number,
  limitM: number,
): number {
  const junctions: { at: Place; around: (number | { ring: number })[] }[] = [];
  const add = (node: Rooted): number | { ring: number } => {
    if (!node.below) return { ring: node.ring };
    const mine = junctions.length;
    const junction = { at: [0, 0] as Place, around: [] as (number | { ring: number })[] };
    junctions.push(junction);
    for (const child of node.below) {
      const one = add(child);
      junction.around.push(one);
      if (typeof one === "number") junctions[one]!.around.push(mine);
    }
    return mine;
  };
  add(tree);
  junctions[0]!.around.push({ ring: root });
  const all = [...membersOf(tree.set), root].map((i) => middleOf(rings[i]!));
  const start = meanOf(all);
  // From the middle outwards: each junction by what hangs on it.
  junctions.forEach((junction, i) => {
    const held = junction.around.flatMap((one) =>
      typeof one === "number" ? [] : [nearestOn(rings[one.ring]!, start)],
    );
    junction.at = meanOf([...held, [start[0] + 1e-3 * i, start[1] - 1e-3 * i]]);
  });
  const placeOf = (one: number | { ring: number }, from: Place): Place =>
    typeof one === "number" ? junctions[one]!.at : nearestOn(rings[one.ring]!, from);
  let before = Infinity;
  for (let sweep = 0; sweep < SWEEPS; sweep++) {
    let lengthM = 0;
    junctions.forEach((junction, i) => {
      let [w, we, wn] = [0, 0, 0];
      for (const one of junction.around) {
        const [e, n] = placeOf(one, junction.at);
        const d = Math.max(1e-9, Math.hypot(e - junction.at[0], n - junction.at[1]));
        // An edge between two junctions is seen from both.
        if (typeof one !== "number" || one > i) lengthM += d;
        w += 1 / d;
        we += e / d;
        wn += n / d;
      }
      junction.at = [we / w, wn / w];
    });
    if (before - lengthM < 1e-6 && sweep > 5) return Math.min(before, lengthM);
    if (sweep === 40 && lengthM > 1.03 * limitM) return Infinity;
    before = lengthM;
  }
  return before;
}

function meanOf(places: readonly Place[]): Place {
  return [
    places.reduce((sum, [e]) => sum + e, 0) / places.length,
    places.reduce((sum, [, n]) => sum + n, 0) / places.length,
  ];
}

function middleOf(ring: Float64Array): Place {
  const places: Place[] = [];
  for (let i = 0; i < ring.length; i += 2) places.push([ring[i]!, ring[i + 1]!]);
  return meanOf(places);
}

function nearestOn(ring: Float64Array, [pe, pn]: Place): Place {
  let best: Place = [ring[0]!, ring[1]!];
  let least = Infinity;
  for (let i = 0; i < ring.length; i += 2) {
    const [ae, an] = [ring[i]!, ring[i + 1]!];
    const de = ring[(i + 2) % ring.length]! - ae;
    const dn = ring[(i + 3) % ring.length]! - an;
    const t = ((pe - ae) * de + (pn - an) * dn) / (de * de + dn * dn);
    const s = Math.max(0, Math.min(1, t));
    const [e, n] = [ae + s * de, an + s * dn];
    const d = (e - pe) ** 2 + (n - pn) ** 2;
    if (d < least) {
      least = d;
      best = [e, n];
    }
  }
  return best;
}
