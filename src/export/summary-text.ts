import { terminalName, terminalSentence } from "../escape/terminal.ts";
import { decimalsOf } from "../handover/prices.ts";
import type { Opening, PassageCost } from "../model/plan.ts";
import { WEEKDAYS } from "../model/site-rules.ts";
import { costSentences, openingSentences } from "../plan/passage-words.ts";
import { table, wrapped } from "./plain-text.ts";
import type { Summary } from "./summary.ts";

/** The summary as plain text for people: site, loops, what to buy, passages, cautions. */
export function summaryText(summary: Summary): string {
  const { site, profile_values: profile } = summary;
  const sections = [
    [
      `Plan of ${terminalName(site.name)}`,
      `Machine profile ${terminalName(profile.name)}: ${terminalName(profile.label)}`,
    ],
    ["Site", ...indented(siteRows(summary))],
    ["Loops", ...indented(loopRows(summary))],
    ...readingSections(summary),
    ...stationSections(summary),
    ...sunSections(summary),
    ...signalSections(summary),
    ["Wire and pegs to buy", ...indented(buyRows(summary))],
    ...priceSections(summary),
    ...partSections(summary),
    ["Passages (width edge to edge, and between the wires)", ...indented(passageRows(summary))],
    ...scheduleSections(summary),
    ...coverageSections(summary),
    [
      "Cautions",
      ...summary.cautions.map(({ text }) => `  - ${wrapped(terminalSentence(text), "    ")}`),
    ],
  ];
  return `${sections.map((lines) => lines.join("\n")).join("\n\n")}\n`;
}

const indented = (rows: readonly string[]) => rows.map((row) => `  ${row}`);
const metres = (value: number) => `${value.toFixed(1)} m`;
const squareMetres = (value: number) => `${value.toFixed(1)} m²`;

function siteRows({ site, totals, terrain }: Summary): string[] {
  const rows = table([
    ["lawn", squareMetres(site.area_m2)],
    ["mown inside the wire", squareMetres(totals.mown_m2)],
    ["to trim by hand", squareMetres(totals.hand_trim_m2)],
    ["cut off from the machine", squareMetres(totals.cut_off_m2)],
    ...(totals.between_loops_m2 > 0
      ? [["of that between two loops", squareMetres(totals.between_loops_m2)]]
      : []),
  ]);
  return terrain ? [...rows, `heights: ${heightsText(terrain)}`, ...slopeRows(terrain)] : rows;
}

function heightsText(terrain: NonNullable<Summary["terrain"]>): string {
  const { from, wire_lowest_m: lowest, wire_highest_m: highest } = terrain;
  const range =
    lowest === null || highest === null
      ? "none under the wire"
      : `the wire lies between ${lowest.toFixed(2)} m and ${highest.toFixed(2)} m`;
  return `${terminalSentence(from)}: ${range}`;
}

function slopeRows(terrain: NonNullable<Summary["terrain"]>): string[] {
  const { steep_m2: steepM2, steepest_percent: steepest } = terrain;
  const { edge_falls_m: fallsM, edge_fall_most_percent: fall } = terrain;
  return [
    ...(steepest === null
      ? []
      : [`too steep: ${squareMetres(steepM2)}, up to ${steepest.toFixed(0)} %, not shut out`]),
    ...(fall === null
      ? []
      : [`edges that fall away: ${metres(fallsM)} of wire, by up to ${fall.toFixed(0)} %`]),
  ];
}

function loopRows({ loops, terrain }: Summary): string[] {
  if (loops.length === 0) return ["none: see the findings"];
  const hasGround = terrain !== null;
  return table([
    [
      "loop",
      "wire",
      ...(hasGround ? ["on the ground"] : []),
      "mown",
      "load",
      "pegs",
      "paired runs",
      "exclusion loops",
    ],
    ...loops.map((loop) => [
      loop.loop,
      metres(loop.length_m),
      ...(hasGround ? [metres(loop.ground_length_m ?? loop.length_m)] : []),
      squareMetres(loop.area_m2),
      `${(100 * loop.load).toFixed(0)} %`,
      String(loop.pegs),
      metres(loop.paired_run_m),
      String(loop.exclusion_loops),
    ]),
  ]);
}

/** What the meter should show, loop by loop, and what it means when it does not. */
function readingSections({ loops }: Summary): string[][] {
  if (loops.length === 0) return [];
  const rows = loops.map(({ loop, reading }) => [
    loop,
    `${reading.at_20_c_ohm.toFixed(2)} ohm at 20 °C`,
    `good from ${reading.least_ohm.toFixed(2)} to ${reading.most_ohm.toFixed(2)} ohm`,
  ]);
  return [
    [
      "Loop reading (meter across the two ends, disconnected from the station)",
      ...indented(table(rows)),
      "  No reading, or kilo-ohms: the wire is broken. Above: a bad joint or terminal. Below: wire is",
      "  missing from the circuit, or two parts of it touch.",
    ],
  ];
}

/** Where stations stand, and the next best places. */
function stationSections({ loops }: Summary): string[][] {
  type Place = Omit<NonNullable<Summary["loops"][number]["station"]>, "given" | "options">;
  const known = (value: number | null, text: (known: number) => string) =>
    value === null ? "?" : text(value);
  const row = (name: string, place: Place): string[] => [
    name,
    place.score.toFixed(2),
    metres(place.straight_m),
    metres(place.clear_ahead_m),
    known(place.slope_percent, (value) => `${value.toFixed(1)} %`),
    known(place.hot_shade, (value) => `${(100 * value).toFixed(0)} %`),
    known(place.lead_m, (value) => `${metres(value)}${place.lead_across_lawn ? " over lawn" : ""}`),
  ];
  const rows = loops.flatMap(({ loop, station }) =>
    station
      ? [
          row(`${loop}, ${station.given ? "given" : "chosen"}`, station),
          ...station.options.map((option, i) => row(`  next ${i + 1}`, option)),
        ]
      : [],
  );
  if (rows.length === 0) return [];
  const head = ["place", "score", "straight", "clear", "slope", "shade when hot", "lead"];
  return [["Station (? is not known; see docs/station.md)", ...indented(table([head, ...rows]))]];
}

/** The sun on the lawn, where asked for. */
function sunSections({ sun }: Summary): string[][] {
  if (!sun || sun.mean_h === null) return [];
  const rows = table(
    sun.lawn
      .filter((one) => one.area_m2 > 0)
      .map((one) => [`${one.from_h} to ${one.to_h} h`, squareMetres(one.area_m2)]),
  );
  return [
    [
      `Direct sun on the lawn a day, under a clear sky from ${sun.from} to ${sun.to}`,
      `  from ${(sun.least_h ?? 0).toFixed(1)} to ${(sun.most_h ?? 0).toFixed(1)} h, ${sun.mean_h.toFixed(1)} h on average; ${sun.day_length_h.toFixed(1)} h on open ground; map in sun.asc`,
      ...indented(rows),
    ],
  ];
}

/** What a week asks of each machine, and when it is out. */
function scheduleSections({ schedule }: Summary): string[][] {
  if (schedule.length === 0) return [];
  const rows = table([
    ["loop", "mowing", "charging", "allowed", "load", "out"],
    ...schedule.map((one) => [
      one.loop,
      `${one.mowing_h.toFixed(1)} h`,
      `${one.charging_h.toFixed(1)} h`,
      `${one.available_h.toFixed(0)} h`,
      `${(100 * one.load).toFixed(0)} %`,
      timetable(one.shifts),
    ]),
  ]);
  return [["Timetable (a week)", ...indented(rows)]];
}

/** Days with the same hours together: `mon-fri 08:00-12:30, sat 08:00-10:00`. */
function timetable(shifts: Summary["schedule"][number]["shifts"]): string {
  const byDay = new Map<string, string>();
  for (const { day, from, to } of shifts) {
    byDay.set(day, [byDay.get(day), `${from}-${to}`].filter(Boolean).join(" and "));
  }
  const groups: { days: string[]; hours: string }[] = [];
  for (const [day, hours] of byDay) {
    const last = groups.at(-1);
    if (last?.hours === hours && follows(last.days.at(-1)!, day)) last.days.push(day);
    else groups.push({ days: [day], hours });
  }
  const named = ({ days, hours }: (typeof groups)[number]) =>
    `${days.length > 1 ? `${days[0]} to ${days.at(-1)}` : days[0]} ${hours}`;
  return groups.map(named).join(", ");
}

const days: readonly string[] = WEEKDAYS;
const follows = (before: string, day: string) => days.indexOf(day) === days.indexOf(before) + 1;

/** The simulation, where asked for. */
function coverageSections({ coverage }: Summary): string[][] {
  if (!coverage || coverage.length === 0) return [];
  const percent = (share: number) => `${(100 * share).toFixed(1)} %`;
  const rows = coverage.flatMap((one) => [
    [one.loop, ...one.after.map(({ share }) => percent(share)), `${one.missed_m2.toFixed(1)} m²`],
    ...(one.with_guide.length > 0
      ? [["  with guide", ...one.with_guide.map(({ share }) => percent(share)), ""]]
      : []),
  ]);
  const heads = coverage[0]!.after.map(({ hours }) => `${hours} h`);
  return [
    [
      "Lawn gone over at least once, by hours of mowing (simulated, random headings)",
      ...indented(table([["loop", ...heads, "largest patch missed"], ...rows])),
    ],
  ];
}

/** The signal, where asked for. */
function signalSections({ signal }: Summary): string[][] {
  if (!signal) return [];
  const rows = table([
    ["loop", "sign", "weakest inside", "of others, at most", "left over pairs", "inductance"],
    ...signal.map((one) => [
      one.loop,
      one.wrong_signs === 0 ? `right at ${one.points} places` : "WRONG: see the findings",
      `${one.least_ut_per_a.toFixed(3)} µT per A`,
      `${(100 * one.clash_share).toFixed(0)} %`,
      `${(100 * one.pair_residue_share).toFixed(0)} %`,
      `${one.inductance_uh} µH`,
    ]),
  ]);
  return [["Signal (per ampere in the wire)", ...indented(rows)]];
}

/** Wire to lay, and which length that is. */
function laidText({ wire_m: flatM, wire_ground_m: groundM }: Summary["totals"]): string {
  if (groundM === undefined) return `${metres(flatM)} is laid; the rest is slack and spare ends`;
  return `${metres(groundM)} is laid along the ground (${metres(flatM)} flat); the rest is slack and spare ends`;
}

const FLAT =
  "        lengths are flat, for no heights are given: on slopes buy more, or plan with --terrain";

function buyRows({ totals, terrain, profile_values: { wire, pegs } }: Summary): string[] {
  const spare = `${(100 * pegs.spare_share).toFixed(0)} % spare`;
  return [
    `wire    ${metres(totals.wire_to_buy_m)}, of which ${laidText(totals)}`,
    ...(terrain === null ? [FLAT] : []),
    ...(totals.guide_m > 0
      ? [
          `        with ${metres(totals.guide_ground_m ?? totals.guide_m)} of guide wire, ${totals.guide_pegs} pegs of its own and a coupler where it meets the loop`,
        ]
      : []),
    ...(totals.paired_run_cost_m !== undefined
      ? [
          `        ${metres(totals.paired_run_m)} of paired runs, chosen as if they were ${metres(totals.paired_run_cost_m)}: some lie on dearer ground`,
        ]
      : []),
    ...(totals.bound_gap > 0
      ? [
          `        at most ${(100 * totals.bound_gap).toFixed(1)} % above the least that paired runs between these loops allow`,
        ]
      : []),
    `reels   ${totals.reels} of ${wire.reel_m} m${totals.joints > 0 ? `, ${totals.joints} sealed coupler${totals.joints > 1 ? "s" : ""}` : ""}`,
    `pegs    ${totals.pegs_to_buy}, of which ${totals.pegs} are set (${spare}): ${byPlace(totals.pegs_by_place)}`,
  ];
}

function byPlace(counts: Summary["totals"]["pegs_by_place"]): string {
  const words = {
    straight: "on straight runs",
    bend: "on bends",
    pair: "of pairs",
    station: "at stations",
  };
  return (["straight", "bend", "pair", "station"] as const)
    .filter((place) => counts[place] > 0)
    .map((place) => `${counts[place]} ${words[place]}`)
    .join(", ");
}

/** The bill, where prices are given. */
function priceSections({ prices }: Summary): string[][] {
  if (!prices) return [];
  const { currency, items, net, tax_rate, tax, total } = prices;
  const money = (amount: number) => amount.toFixed(decimalsOf(currency));
  const rows = items.map((item) => [
    terminalName(item.name),
    `${item.quantity} × ${item.unit_price}`,
    money(item.amount),
  ]);
  const sums = [
    ["net", "", money(net)],
    [`tax ${Number((100 * tax_rate).toFixed(3))} %`, "", money(tax)],
    ["total", "", money(total)],
  ];
  return [[`Price in ${currency}`, ...indented(table([...rows, ...sums]))]];
}

const CHOICES = {
  own: "a loop and station each",
  carried: "on the main wire, machine carried over",
  none: "left out",
};

/** What may become of parts that cannot be driven to, where there are any. */
function partSections({ parts }: Summary): string[][] {
  if (parts.compared.length === 0) return [];
  const rows = table([
    ["parts", "wire", "pegs", "stations", "mown", ""],
    ...parts.compared.map((one) => [
      `${one.parts}: ${CHOICES[one.parts]}`,
      metres(one.wire_m),
      String(one.pegs),
      String(one.stations),
      squareMetres(one.mown_m2),
      one.parts === parts.choice ? "<- this plan" : "",
    ]),
  ]);
  return [["Parts that the machine cannot drive to", ...indented(rows)]];
}

const VERDICTS = {
  mow: "mown like the rest",
  drive: "driven through, not mown evenly",
  shut: "shut",
};

function passageRows({ passages, profile_values: { passage } }: Summary): string[] {
  if (passages.length === 0) return [`none narrower than ${passage.report_below_m.toFixed(2)} m`];
  const figures = table(
    passages.map((one) => [
      String(one.number),
      `${one.width_m.toFixed(2)} m`,
      `${one.wire_width_m.toFixed(2)} m`,
      `${one.length_m.toFixed(1)} m long`,
    ]),
    0,
  );
  return passages.map((one, i) => {
    const first = `${figures[i]}  bearing ${one.bearing_deg.toFixed(0)}°  ${VERDICTS[one.verdict]}${beyondText(one)}`;
    const more = [
      ...openingSentences(one.openings.map(openingOf)),
      ...costSentences(costOf(one.cost)),
    ];
    return [first, ...more.map((text) => wrapped(terminalSentence(text), "        "))].join(
      "\n      ",
    );
  });
}

type WrittenPassage = Summary["passages"][number];

function beyondText({ beyond_m2, islands_beyond: islands }: WrittenPassage): string {
  if (beyond_m2 === 0) return "";
  const count = islands.length;
  const islandsText = count === 0 ? "" : ` with ${count} ${count === 1 ? "island" : "islands"}`;
  return `; ${squareMetres(beyond_m2)}${islandsText} beyond`;
}

function openingOf(written: WrittenPassage["openings"][number]): Opening {
  const { amount_m: amountM, length_m: lengthM, ...same } = written;
  return { ...same, amountM, ...(lengthM === undefined ? {} : { lengthM }) };
}

function costOf(written: WrittenPassage["cost"]): PassageCost | undefined {
  if (!written) return undefined;
  const { comes_to: comesTo, area_m2: areaM2, wire_m: wireM, ...same } = written;
  return { ...same, comesTo, areaM2, ...(wireM === undefined ? {} : { wireM }) };
}
