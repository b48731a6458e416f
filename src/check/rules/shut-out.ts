import type { PointM } from "../../model/geometry.ts";
import type { Thing } from "../../model/site.ts";
import type { Case } from "../case.ts";
import { measured } from "../measure.ts";
import type { Rule } from "../rule.ts";

/** How often the wire goes round soft things. 0: shut out. 1: left inside. Else: wrong way round. */
function* windingsOfSoft({ site, wires }: Case): Generator<[Thing, number, PointM]> {
  for (const thing of site.things) {
    if (thing.contact !== "loop") continue;
    for (const { shell } of thing.areas) {
      const atM: PointM = [shell[0]!, shell[1]!];
      const times = wires.windingOfAll(atM[0], atM[1]);
      if (times !== 0) yield [thing, times, atM];
    }
  }
}

/** Everything that must not be driven on lies outside the wire. */
export const shutOut: Rule = {
  id: "shut-out",
  code: "THING_INSIDE_WIRE",
  title: "things to shut out that lie inside the wire",
  measure(court) {
    const breaches = [...windingsOfSoft(court)].map(([thing, , atM]) => ({
      message: `${thing.name} (${thing.role}) lies inside the wire: the machine would drive onto it.`,
      remedy: "Lead the wire out to it, once clockwise round it, and back beside itself.",
      atM,
    }));
    return measured("count", "at most", breaches.length, 0, breaches);
  },
};

/** Rings round islands run clockwise: the wire as a whole never goes round anything the wrong way. */
export const ringDirection: Rule = {
  id: "ring-direction",
  code: "ISLAND_RING_TURNED",
  title: "rings round islands that run the wrong way",
  measure(court) {
    const breaches = [...windingsOfSoft(court)]
      .filter(([, times]) => times !== 1)
      .map(([thing, times, atM]) => ({
        message: `The wire goes ${times} times round ${thing.name}: its ring runs the wrong way.`,
        remedy: "Lay the ring round it clockwise, out and back without crossing the pair.",
        atM,
      }));
    return measured("count", "at most", breaches.length, 0, breaches);
  },
};
