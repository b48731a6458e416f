/**
 * Many random sites, one seed each, judged; see DEVELOPERS.md. Seeds S to S + N − 1, so that a run
 * can be taken up where another ended or shared between machines.
 */
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { seeded } from "../../src/physics/coverage/seeded.ts";
import { brokenBy } from "./metamorphic.ts";
import { minimised } from "./minimise.ts";
import { judged } from "./rules.ts";
import type { Sketch } from "./sketch.ts";
import { sketchOf } from "./sketches.ts";

export interface RunOptions {
  readonly sites: number;
  readonly seed: number;
  /** Folder for counterexamples. */
  readonly out: string;
  /** Counterexamples made small; the rest are only counted. */
  readonly minimise: number;
  /** A counterexample to judge again in place of seeds. */
  readonly replay?: string;
}

/** What a breach is called: who said so and the rule, without places and amounts. */
export function ruleOf(breach: string): string {
  if (breach.startsWith("threw")) return breach.split("\n")[0]!;
  const from = breach.indexOf("{");
  if (from === -1) return breach;
  const { rule, code } = JSON.parse(breach.slice(from)) as { rule?: string; code?: string };
  return breach.slice(0, from) + (rule ?? code);
}

/** Changes to many random sites that must not change their wire. @returns whether they do not */
export async function runChanges({ sites, seed }: RunOptions): Promise<boolean> {
  const began = process.cpuUsage().user;
  let cases = 0;
  let bad = 0;
  const byChange = new Map<string, string[]>();
  for (let s = seed; s < seed + sites; s++) {
    const found = await brokenBy(sketchOf(s), seeded(s));
    cases += found.cases;
    bad += found.broken.length;
    for (const one of found.broken) {
      const [name, rest] = [one.slice(0, one.indexOf(":")), one.slice(one.indexOf(":") + 2)];
      byChange.set(name, [...(byChange.get(name) ?? []), `seed ${s}: ${rest}`]);
    }
  }
  for (const [name, list] of byChange) {
    console.log([`${name}: ${list.length}`, ...list.slice(0, 12)].join("\n  "));
  }
  const usedS = (process.cpuUsage().user - began) / 1e6;
  console.log(
    `seeds ${seed} to ${seed + sites - 1}: ${bad} of ${cases} changes broken; ${usedS.toFixed(0)} s of CPU`,
  );
  return bad === 0;
}

/** @returns whether every plan holds */
export async function run({ sites, seed, out, minimise, replay }: RunOptions): Promise<boolean> {
  if (replay !== undefined) {
    const { sketch } = JSON.parse(readFileSync(replay, "utf8")) as { sketch: Sketch };
    const { outcome, breaches } = await judged(sketch);
    console.log([outcome, ...breaches].join("\n"));
    return breaches.length === 0;
  }
  const outcomes = new Map<string, number>();
  const broken = new Map<string, number[]>();
  const worst = { setinMarginM: Infinity, maxSpanM: 0, minVertexApartM: Infinity, slowestS: 0 };
  const slowest = { seed };
  let wireM = 0;
  let small = 0;
  let bad = 0;
  const began = process.cpuUsage().user;
  const usedS = () => (process.cpuUsage().user - began) / 1e6;
  for (let s = seed; s < seed + sites; s++) {
    const sketch = sketchOf(s);
    const before = usedS();
    const { outcome, breaches, figures } = await judged(sketch);
    const tookS = usedS() - before;
    if (tookS > worst.slowestS) [worst.slowestS, slowest.seed] = [tookS, s];
    outcomes.set(outcome, (outcomes.get(outcome) ?? 0) + 1);
    if (figures) {
      worst.setinMarginM = Math.min(worst.setinMarginM, figures.setinMarginM);
      worst.maxSpanM = Math.max(worst.maxSpanM, figures.maxSpanM);
      worst.minVertexApartM = Math.min(worst.minVertexApartM, figures.minVertexApartM);
      wireM += figures.wireM;
    }
    if (breaches.length > 0) {
      bad++;
      const rules = [...new Set(breaches.map(ruleOf))];
      for (const rule of rules) broken.set(rule, [...(broken.get(rule) ?? []), s]);
      if (small < minimise) {
        small++;
        const fails = async (one: Sketch) =>
          (await judged(one)).breaches.map(ruleOf).includes(rules[0]!);
        const least = await minimised(sketch, fails);
        mkdirSync(out, { recursive: true });
        const told = { seed: s, rules, breaches: (await judged(least)).breaches, sketch: least };
        writeFileSync(`${out}/seed-${s}.json`, `${JSON.stringify(told, null, 1)}\n`);
      }
    }
    if ((s - seed + 1) % 500 === 0)
      console.error(`${s - seed + 1} sites, ${bad} broken, ${usedS().toFixed(0)} s`);
  }
  for (const [rule, seeds] of broken)
    console.log(`${rule}: ${seeds.length} (seeds ${seeds.slice(0, 12).join(" ")})`);
  const counts = [...outcomes].map(([what, n]) => `${what} ${n}`).join(", ");
  console.log(
    `seeds ${seed} to ${seed + sites - 1}: ${bad} of ${sites} broken (${counts}); ${(wireM / 1000).toFixed(1)} km of wire; ` +
      `least set-in margin ${worst.setinMarginM.toFixed(4)} m, longest span ${worst.maxSpanM.toFixed(4)} m, nearest wires ${worst.minVertexApartM.toFixed(4)} m; ` +
      `${usedS().toFixed(0)} s of CPU, slowest ${worst.slowestS.toFixed(1)} s (seed ${slowest.seed})`,
  );
  return bad === 0;
}
