import { PEG_REACH_M } from "../allowances.ts";
import { signedAreaM2 } from "../kernel/plane.ts";
import { measured, notMeasured, type Place, worstPlaces } from "../measure.ts";
import type { Rule } from "../rule.ts";

/** Rings that the plan states are rings of its wire. */
export const exclusionLoops: Rule = {
  id: "exclusion-loops",
  code: "EXCLUSION_OFF_WIRE",
  title: "greatest distance of a stated exclusion loop from the wire",
  measure({ plan, wires }) {
    if (!plan.loops.some((loop) => (loop.exclusionLoops?.length ?? 0) > 0)) {
      return notMeasured("m", "at most", "no exclusion loops are stated");
    }
    const places: Place<string>[] = [];
    let most = 0;
    const inside: Place<string>[] = [];
    plan.loops.forEach((loop, number) => {
      for (const { ring, name } of loop.exclusionLoops ?? []) {
        const turns = Math.sign(signedAreaM2(ring));
        for (let i = 0; i < ring.length; i += 2) {
          const [e, n] = [ring[i]!, ring[i + 1]!];
          const offM = wires.tree.nearest(e, n, 10)?.distanceM ?? 10;
          most = Math.max(most, offM);
          if (offM > PEG_REACH_M) places.push({ atM: [e, n], amount: offM, of: name });
        }
        const j = longestEdge(ring);
        const [ae, an] = [ring[j]!, ring[j + 1]!];
        const [be, bn] = [ring[(j + 2) % ring.length]!, ring[(j + 3) % ring.length]!];
        const lengthM = Math.hypot(be - ae, bn - an);
        // A place just inside the ring, farther in than the two wires of a pair are apart.
        const stepM = (turns * Math.min(0.03, lengthM / 4)) / lengthM;
        const at = [(ae + be) / 2 - stepM * (bn - an), (an + bn) / 2 + stepM * (be - ae)] as const;
        if (wires.winding(number, at[0], at[1]) !== 0) {
          inside.push({ atM: at, amount: 1, of: name });
        }
      }
    });
    const breaches = [
      ...worstPlaces(places).map(({ atM, amount, of }) => ({
        message: `The exclusion loop ${of} is stated ${amount.toFixed(3)} m from where the wire lies.`,
        remedy: "Lead the wire along it, or correct the ring.",
        atM,
      })),
      ...inside.map(({ atM, of }) => ({
        message: `What the exclusion loop ${of} shuts out lies inside the wire.`,
        remedy: "Lead the wire round it clockwise.",
        atM,
      })),
    ];
    return measured("m", "at most", most, PEG_REACH_M, breaches);
  },
};

function longestEdge(ring: Float64Array): number {
  let [best, bestM] = [0, -1];
  for (let i = 0; i < ring.length; i += 2) {
    const j = (i + 2) % ring.length;
    const lengthM = Math.hypot(ring[j]! - ring[i]!, ring[j + 1]! - ring[i + 1]!);
    if (lengthM > bestM) [best, bestM] = [i, lengthM];
  }
  return best;
}
