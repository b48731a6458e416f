import type { RawLayer } from "../model/features.ts";
import { done, type Finding, failed, type Outcome } from "../model/finding.ts";
import { nearestName } from "../profile/nearest-name.ts";
import { type Membership, type Plots, plotsOf } from "./plot.ts";

/**
 * Plots by an attribute: all features with the same value make one, whatever layer they are in. Text
 * and numbers that read the same are the same value; blanks about them do not matter.
 *
 * @param field name of the attribute; capitals do not matter
 * @returns plots in the order in which their values first appear; `PLOT_FIELD_MISSING` where no
 *   feature has one. Features without a value are in no plot, which is a finding
 */
export function plotsByField(layers: readonly RawLayer[], field: string): Outcome<Plots> {
  const groups = new Map<string, number[]>();
  const findings: Finding[] = [];
  let place = 0;
  for (const layer of layers) {
    let without = 0;
    for (const { properties } of layer.features) {
      const value = fieldText(properties, field);
      if (value === undefined) without++;
      else {
        const group = groups.get(value);
        if (group === undefined) groups.set(value, [place]);
        else group.push(place);
      }
      place++;
    }
    if (without > 0) findings.push(withoutValue(layer, field, without));
  }
  if (groups.size === 0) return failed(fieldMissing(layers, field), []);
  const members = [...groups].map(([name, features]): Membership => ({ name, features }));
  return done(plotsOf(layers, members), findings);
}

/** Value of an attribute as text; undefined where there is none, or where it is no single value. */
export function fieldText(
  properties: Readonly<Record<string, unknown>>,
  field: string,
): string | undefined {
  const wanted = plain(field);
  const key = Object.hasOwn(properties, field)
    ? field
    : Object.keys(properties).find((k) => plain(k) === wanted);
  const value = key === undefined ? undefined : properties[key];
  if (value === null || value === undefined || typeof value === "object") return undefined;
  const text = String(value).trim();
  return text === "" ? undefined : text;
}

const plain = (name: string) => name.trim().toLowerCase();

function withoutValue({ file, layer }: RawLayer, field: string, count: number): Finding {
  return {
    code: "PLOT_FIELD_EMPTY",
    severity: "warning",
    file,
    layer,
    message: `${count} features of layer ${layer} have no value of ${field} and are in no plot.`,
    remedy: `Give them the value of the plot that they belong to, or plan with --each-lawn.`,
  };
}

function fieldMissing(layers: readonly RawLayer[], field: string) {
  const known = [...new Set(layers.flatMap((layer) => layer.fields))];
  const near = nearestName(field, known);
  const list = known.slice(0, 20).join(", ");
  return {
    code: "PLOT_FIELD_MISSING",
    kind: "usage" as const,
    message: `No feature has a value of ${field}, by which the plots are to be told apart.`,
    remedy: `${near === undefined ? "" : `Did you mean ${near}? `}The attributes are: ${list || "none"}.`,
  };
}
