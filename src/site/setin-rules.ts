import type { SourceRef } from "../model/finding.ts";
import type { EdgeLine, Lawn, Thing } from "../model/site.ts";
import type { SetinRules } from "../model/site-rules.ts";
import { nearestName } from "../profile/nearest-name.ts";
import { listed, type Note } from "./notes.ts";

interface Parts {
  readonly lawns: readonly Lawn[];
  readonly things: readonly Thing[];
  readonly edgeLines: readonly EdgeLine[];
}

/** A feature of the inputs or of the site file, as one text. */
export function featureKey({ file, layer, number }: SourceRef): string {
  return `${file}\n${layer}\n${number}`;
}

/**
 * Set-ins that the user rules, put where they belong. What is said of one feature wins over the name,
 * that over the feature's own attribute, which wins over the role; by edge kind is a matter of the
 * profile.
 *
 * @param said features whose set-in is said one by one, by `featureKey`
 */
export function withSetins<P extends Parts>(
  parts: P,
  rules: SetinRules,
  note: Note,
  said: ReadonlySet<string> = new Set(),
): P {
  const { roles = {}, things = {} } = rules;
  const byName = new Map(Object.entries(things).map(([name, m]) => [name.trim().toLowerCase(), m]));
  const known = new Set<string>();
  const named = (name: string | undefined): number | undefined => {
    if (name === undefined) return undefined;
    known.add(name);
    return byName.get(name.trim().toLowerCase());
  };
  const put = <T extends { readonly setinM?: number }>(
    one: T,
    name: string | undefined,
    byRole: number | undefined,
    source?: SourceRef,
  ): T => {
    const ruled = named(name);
    const isSaid = source !== undefined && said.size > 0 && said.has(featureKey(source));
    const setinM = (isSaid ? one.setinM : ruled) ?? one.setinM ?? byRole;
    return setinM === undefined ? one : { ...one, setinM };
  };
  const result = {
    ...parts,
    lawns: parts.lawns.map((lawn) => {
      const ownEdges = lawn.ownEdges?.map((own) => put(own, lawn.name, roles.lawn));
      const whole = put(lawn, lawn.name, roles.lawn, lawn.source);
      return { ...whole, ...(ownEdges && { ownEdges }) };
    }),
    things: parts.things.map((thing) =>
      put(thing, thing.name, roles[thing.role], thing.isHole ? undefined : thing.source),
    ),
    edgeLines: parts.edgeLines.map((line) =>
      put(line, line.source.feature, roles.edge, line.source),
    ),
  };
  for (const name of Object.keys(things)) {
    if ([...known].some((one) => one.trim().toLowerCase() === name.trim().toLowerCase())) continue;
    const near = nearestName(name, [...known]);
    note({
      code: "SETIN_NAME_UNUSED",
      severity: "warning",
      message: `A set-in is given for "${name}", but nothing near a planned lawn has that name.`,
      remedy: near ? `Did you mean "${near}"?` : `Names are: ${listed([...known], 12)}.`,
    });
  }
  return result;
}
