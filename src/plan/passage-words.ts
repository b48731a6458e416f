/** What opens a passage and what leaving it comes to, in words: findings and summary say the same. */
import type { Opening, PassageCost } from "../model/plan.ts";

/** A length to the centimetre, rounded up so that doing it is enough. */
const enough = (lengthM: number): string =>
  `${(Math.ceil(100 * lengthM - 0.01) / 100).toFixed(2)} m`;

const PURPOSE = { drive: "to drive through", mow: "to mow in it" };

/** One sentence a means, what is done to which edge and what for. */
export function openingSentences(openings: readonly Opening[]): string[] {
  const groups = new Map<string, Opening[]>();
  for (const opening of openings) {
    const key = `${opening.means} ${opening.of ?? ""} ${opening.sides ?? ""}`;
    groups.set(key, [...(groups.get(key) ?? []), opening]);
  }
  return [...groups.values()].map((group) => {
    const [first] = group;
    const { means, of, lengthM = 0 } = first!;
    if (means === "flush-edging") {
      return `Or lay flush edging along ${lengthM.toFixed(1)} m of ${of} ${PURPOSE[first!.gives]}.`;
    }
    const by = group
      .map(({ amountM, gives }) => `by ${enough(amountM)} ${PURPOSE[gives]}`)
      .join(", ");
    return means === "widen" ? `Widen it ${by}.` : `Or move the edge of ${of} ${by}.`;
  });
}

/** What leaving it comes to; nothing for a passage that is mown. */
export function costSentences(cost: PassageCost | undefined): string[] {
  if (!cost) return [];
  const size = `${cost.areaM2.toFixed(1)} m²`;
  if (cost.comesTo === "loop") {
    return [
      `Left as it is, ${size} need loop ${cost.loop} with ${(cost.wireM ?? 0).toFixed(0)} m of wire, ${cost.pegs} pegs and a station of its own.`,
    ];
  }
  if (cost.comesTo === "cut-off") return [`Left as it is, ${size} are cut off from the machine.`];
  return [`Left as it is, ${size} in it are trimmed by hand.`];
}
