/** The judge is tested by faults: each corruption of a good plan is caught by the rule it breaks. */
import { beforeAll, describe, expect, it } from "vitest";
import { RULES } from "../../src/check/rules.ts";
import { checkPlan } from "../../src/index.ts";
import { seeded } from "../../src/physics/coverage/seeded.ts";
import { FAULTS } from "./faults.ts";
import { demoPlan, estatePlan, type Good, randomPlan } from "./plans.ts";

const RANDOM_SEEDS = [2, 5, 8, 9, 11, 17, 26, 44];
const PLACES = 3;

let goods: Good[];
beforeAll(async () => {
  const random = await Promise.all(RANDOM_SEEDS.map((seed) => randomPlan(seed, seed % 2 === 0)));
  goods = [await demoPlan(), await estatePlan(1), ...random.flatMap((one) => one ?? [])];
}, 120_000);

it("holds every plan before it is corrupted", () => {
  for (const { name, site, profile, plan } of goods) {
    const { verdict, findings } = checkPlan(site, profile, plan);
    expect([name, verdict, findings]).toEqual([name, "holds", []]);
  }
});

describe("catches", () => {
  it.each(FAULTS.map((fault) => [fault.name, fault] as const))("%s", (name, fault) => {
    let made = 0;
    const missed: string[] = [];
    goods.forEach((good, g) => {
      for (let place = 0; place < PLACES; place++) {
        const seed = 1000 * g + place;
        const spoilt = fault.spoil(good, seeded(seed));
        if (!spoilt) continue;
        made++;
        const { verdict, measures, findings } = checkPlan(spoilt.site, spoilt.profile, spoilt.plan);
        const measure = measures.find((one) => one.rule === fault.breaks)!;
        const { code, isDoubt } = RULES.find((rule) => rule.id === fault.breaks)!;
        const isSaid = findings.some((one) => one.code === code);
        const isCaught = measure.holds === false && isSaid && (isDoubt || verdict === "broken");
        const hasPlace = measure.breaches.every((one) => one.message !== "" && one.remedy !== "");
        if (!isCaught || !hasPlace) {
          missed.push(`${good.name}, seed ${seed}: ${fault.breaks} ${measure.measured}`);
        }
      }
    });
    expect(missed, name).toEqual([]);
    expect(made, `${name}: places for this fault`).toBeGreaterThan(1);
  });
});

it("has at least 32 different faults, and one for every rule that is measured", () => {
  expect(new Set(FAULTS.map((fault) => fault.name)).size).toBeGreaterThanOrEqual(32);
  const { site, profile, plan } = goods[0]!;
  const broken = new Set<string>(FAULTS.map((fault) => fault.breaks));
  const rules = checkPlan(site, profile, plan).measures.map((one) => one.rule);
  expect(rules.filter((rule) => !broken.has(rule) && rule !== "station-front")).toEqual([]);
});
