import type { Plan } from "../model/plan.ts";
import type { PricedUnit, PriceList } from "../model/site-rules.ts";
import type { Quantities } from "./quantities.ts";

/** One line of the bill. */
export interface PricedLine {
  readonly name: string;
  readonly per: PricedUnit;
  readonly quantity: number;
  readonly unitPrice: number;
  readonly amount: number;
}

/** What a plan comes to by a price list. Amounts are rounded to the currency's smallest coin. */
export interface PricedTotal {
  readonly currency: string;
  readonly lines: readonly PricedLine[];
  readonly net: number;
  readonly taxRate: number;
  readonly tax: number;
  readonly total: number;
}

/**
 * Prices a plan: quantity times unit price for each item, rounded line by line, tax on the sum.
 *
 * Quantities are those to buy: wire with slack and spare ends (to 0.1 mm, as in the summary), pegs with spares.
 * Reels of another size than the profile's are no part of it. Lead is counted where an outlet is given,
 * one outlet a station.
 * Decimals of an amount are the currency's (ISO 4217, as Unicode CLDR has them): 2 for EUR, 0 for
 * JPY, 3 for KWD; half a coin is rounded up.
 */
export function pricedTotal(plan: Plan, quantities: Quantities, list: PriceList): PricedTotal {
  const decimals = decimalsOf(list.currency);
  const coins = (amount: number) => roundedUp(amount, decimals);
  const counts = countsOf(plan, quantities);
  const ofSize = ({ reelM }: PriceList["items"][number]) =>
    reelM === undefined || Math.abs(reelM - quantities.cutting.reelM) < 1e-9;
  const lines = list.items.filter(ofSize).map(({ name, per, unitPrice }) => {
    const quantity = roundedUp(counts[per], 4);
    return { name, per, quantity, unitPrice, amount: coins(quantity * unitPrice) };
  });
  const net = coins(lines.reduce((sum, line) => sum + line.amount, 0));
  const tax = coins(net * list.taxRate);
  return {
    currency: list.currency,
    lines,
    net,
    taxRate: list.taxRate,
    tax,
    total: coins(net + tax),
  };
}

function countsOf(plan: Plan, { loops, totals }: Quantities): Readonly<Record<PricedUnit, number>> {
  return {
    wire_m: totals.wireToBuyM,
    reel: totals.reels,
    peg: totals.pegsToBuy,
    coupler: totals.joints,
    connector: totals.connectors,
    station: totals.stations,
    fixing: totals.fixings,
    lead_m: totals.leadM ?? 0,
    outlet: totals.stations,
    exclusion_loop: loops.reduce((sum, loop) => sum + loop.exclusionLoops, 0),
    lawn_m2: plan.groundM2,
    plan: 1,
  };
}

/** Decimals of a currency's amounts. */
export function decimalsOf(currency: string): number {
  const format = new Intl.NumberFormat("en", { style: "currency", currency });
  return format.resolvedOptions().maximumFractionDigits ?? 2;
}

/** Half is rounded up; what floating point takes from a half (1.005 is a little less) is given back. */
function roundedUp(value: number, decimals: number): number {
  const scale = 10 ** decimals;
  return Math.round(value * scale * (1 + 1e-12)) / scale;
}
