import { describe, expect, it } from "vitest";
import { pricedTotal } from "../../src/handover/prices.ts";
import { quantitiesOf } from "../../src/handover/quantities.ts";
import type { PriceList } from "../../src/model/site-rules.ts";
import { samplePlan } from "../export/sample-plan.ts";

const plan = samplePlan();
const quantities = quantitiesOf(plan);
const priced = (list: PriceList) => pricedTotal(plan, quantities, list);

describe("a priced total", () => {
  it("is quantity times unit price, rounded line by line, with tax on the sum", () => {
    const { wireToBuyM, pegsToBuy } = quantities.totals;
    const bill = priced({
      currency: "EUR",
      taxRate: 0.19,
      items: [
        { name: "Wire", per: "wire_m", unitPrice: 0.333 },
        { name: "Pegs", per: "peg", unitPrice: 0.07 },
        { name: "Visit", per: "plan", unitPrice: 80 },
      ],
    });
    const wire = Math.round(Number(wireToBuyM.toFixed(4)) * 0.333 * 100) / 100;
    const pegs = Math.round(pegsToBuy * 7) / 100;
    expect(bill.lines.map((line) => line.amount)).toEqual([wire, pegs, 80]);
    expect(bill.net).toBeCloseTo(wire + pegs + 80, 9);
    expect(bill.tax).toBeCloseTo(Math.round(bill.net * 19) / 100, 9);
    expect(bill.total).toBeCloseTo(bill.net + bill.tax, 9);
  });

  // Minor units by ISO 4217: JPY has none, KWD has three.
  it.each([
    ["JPY", 1],
    ["EUR", 1.01],
    ["KWD", 1.005],
  ])("is rounded to the smallest coin of %s, half upward", (currency, amount) => {
    const items = [{ name: "Visit", per: "plan" as const, unitPrice: 1.005 }];
    expect(priced({ currency, taxRate: 0, items }).total).toBe(amount);
  });
});
