/** What differs between two plans of one site, in figures. */
import type { PageFinding, PageModel } from "../model/page-model.ts";

type Total = keyof PageModel["totals"];

export interface Change {
  readonly before: number;
  readonly after: number;
}

export interface Differences {
  /** All totals, changed or not. */
  readonly totals: Readonly<Record<Total, Change>>;
  /** Where both plans have prices in one currency. */
  readonly price?: Change & { readonly currency: string };
  /** Findings that were not there, and that are there no more. */
  readonly added: readonly PageFinding[];
  readonly gone: readonly PageFinding[];
}

type Compared = Pick<PageModel, "totals" | "prices" | "findings">;

export function differences(before: Compared, after: Compared): Differences {
  const totals = Object.fromEntries(
    (Object.keys(before.totals) as Total[]).map((key) => [
      key,
      { before: before.totals[key], after: after.totals[key] },
    ]),
  ) as Differences["totals"];
  const [was, is] = [before.prices, after.prices];
  const price =
    was && is && was.currency === is.currency
      ? { price: { before: was.total, after: is.total, currency: is.currency } }
      : {};
  return {
    totals,
    ...price,
    added: without(after.findings, before.findings),
    gone: without(before.findings, after.findings),
  };
}

/** Those of a list that another does not hold, by what they say; as often as they are missing. */
function without(list: readonly PageFinding[], other: readonly PageFinding[]): PageFinding[] {
  const key = ({ code, message, where }: PageFinding) => JSON.stringify([code, message, where]);
  const counts = new Map<string, number>();
  for (const one of other) counts.set(key(one), (counts.get(key(one)) ?? 0) + 1);
  return list.filter((one) => {
    const count = counts.get(key(one)) ?? 0;
    counts.set(key(one), count - 1);
    return count <= 0;
  });
}
