/**
 * No false alarm: plans of random sites hold. Some hundred in an ordinary run; `npm run check:good`
 * takes 10,000 and prints seeds, time and the worst figures.
 */
import { expect, it } from "vitest";
import { checkPlan } from "../../src/index.ts";
import { randomPlan } from "./plans.ts";

const PLANS = Number(process.env.PEGLINE_GOOD_PLANS ?? 100);
/** Clear of the seeds that other tests use. */
const FIRST_SEED = 1001;
const SECONDS_MAX = 60 + PLANS;

it(
  `${PLANS} plans hold`,
  async () => {
    const broken: string[] = [];
    const noRoom: number[] = [];
    const worst = new Map<string, { figure: number; seed: number }>();
    let [made, judging] = [0, 0];
    const started = process.cpuUsage().user;
    let seed = FIRST_SEED;
    for (; made < PLANS; seed++) {
      for (const oneKind of [true, false]) {
        const good = await randomPlan(seed, oneKind);
        if (!good) {
          noRoom.push(seed);
          continue;
        }
        made++;
        const before = process.cpuUsage().user;
        const { measures, findings } = checkPlan(good.site, good.profile, good.plan);
        judging += process.cpuUsage().user - before;
        for (const { code, message } of findings) {
          broken.push(`seed ${seed}${oneKind ? " of one kind" : ""}: ${code} ${message}`);
        }
        for (const { rule, measured, bound } of measures) {
          if (measured === null) continue;
          const known = worst.get(rule)?.figure;
          const isWorse =
            known === undefined || (bound === "at least" ? measured < known : measured > known);
          if (isWorse) worst.set(rule, { figure: measured, seed });
        }
      }
    }
    if (process.env.PEGLINE_GOOD_PLANS) {
      const seconds = (process.cpuUsage().user - started) / 1e6;
      process.stdout.write(
        [
          `${made} plans, seeds ${FIRST_SEED} to ${seed - 1}, ${noRoom.length} sites without room for wire`,
          `${seconds.toFixed(0)} s of CPU, of which the judge ${(judging / 1e6).toFixed(0)} s`,
          ...[...worst].map(
            ([rule, one]) => `${rule}: ${one.figure.toFixed(5)} (seed ${one.seed})`,
          ),
          ...broken,
          "",
        ].join("\n"),
      );
    }
    expect(broken).toEqual([]);
  },
  SECONDS_MAX * 1000,
);
