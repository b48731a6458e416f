/** The part of docs/station.md that the tool makes: the five described sites, planned. */
import { epsgRegistry } from "../../cli/epsg-registry.ts";
import { planFiles, planInputs, type Summary } from "../../src/index.ts";
import { planeAt } from "../support/plane.ts";
import { SOMEWHERE } from "../support/sites.ts";
import { DESCRIBED_SITES, type DescribedSite, heightsOf, inputOf } from "./sites.ts";

export const BEGIN = "<!-- figures: made by the tool, see tests/station -->";
export const END = "<!-- end of figures -->";

export type Station = NonNullable<Summary["loops"][number]["station"]>;
type Place = Omit<Station, "given" | "options">;

export interface PlannedSite {
  readonly site: DescribedSite;
  readonly station: Station;
}

export async function plannedSites(): Promise<PlannedSite[]> {
  const made: PlannedSite[] = [];
  for (const site of DESCRIBED_SITES) {
    const outcome = await planInputs([inputOf(site)], {
      registry: epsgRegistry,
      ...(site.ground ? { terrain: { file: heightsOf(site.ground) } } : {}),
      rules: site.sun ? { sun: { zone: "-02:00" } } : {},
    });
    if (!outcome.ok) throw new Error(`${site.title}: ${outcome.problem.message}`);
    made.push({ site, station: planFiles(outcome.value).summary.loops[0]!.station! });
  }
  return made;
}

/** Place in metres east and north of the site's own origin. */
export function placeOf({ at }: Pick<Place, "at">): [number, number] {
  const [x, y] = planeAt(SOMEWHERE).toPlane(at as [number, number]);
  return [x, y];
}

const metres = (value: number | null) => (value === null ? "–" : value.toFixed(1));

function row(name: string, place: Place): string {
  const [x, y] = placeOf(place);
  const cells = [
    name,
    `${x.toFixed(1)}, ${y.toFixed(1)}`,
    place.score.toFixed(2),
    place.straight_m.toFixed(1),
    place.clear_ahead_m.toFixed(1),
    metres(place.slope_percent),
    place.hot_shade === null ? "–" : (100 * place.hot_shade).toFixed(0),
    `${metres(place.lead_m)}${place.lead_across_lawn ? " over lawn" : ""}`,
    metres(place.corner_m),
    metres(place.passage_m),
    metres(place.island_m),
    metres(place.water_m),
    metres(place.public_m),
  ];
  return `| ${cells.join(" | ")} |`;
}

const HEAD = [
  "| place | east, north (m) | score | straight (m) | clear (m) | slope (%) | shade when hot (%) | lead (m) | corner (m) | passage (m) | island (m) | water (m) | public (m) |",
  "| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |",
];

export function figuresPage(sites: readonly PlannedSite[]): string {
  const sections = sites.map(({ site, station }) =>
    [
      `### ${site.title}`,
      "",
      site.told,
      "",
      `**What the trade would say.** ${site.expected}`,
      "",
      ...HEAD,
      row("**chosen**", station),
      ...station.options.map((option, i) => row(`next ${i + 1}`, option)),
    ].join("\n"),
  );
  return `${BEGIN}\n\n${sections.join("\n\n")}\n\n${END}`;
}
