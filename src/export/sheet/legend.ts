/** The legend: what stands on a drawing and nothing else, in two columns. */
import type { EdgeKind } from "../../model/roles.ts";
import { STYLE_NAMES, type StyleName, styleNamed } from "../style/plan-style.ts";
import { EDGE_STROKES, LAWN_EDGE, SITE_STYLES } from "../style/site-style.ts";
import { dimensionShapes } from "./draw-dimensions.ts";
import { pointShapes } from "./draw-names.ts";
import { arrowHead, jointShapes, pairShapes, pegShape, stationShapes } from "./draw-wire.ts";
import { type Row, type Section, text } from "./flow.ts";
import { dotLines, hatchLines } from "./hatch.ts";
import { CAPITALS_EM, LETTERS, wrappedLines } from "./lettering.ts";
import { type BoxMm, type LineMm, line, type Shape } from "./scene.ts";
import type { SheetWords } from "./words.ts";

interface Entry {
  readonly key: string;
  readonly label: string;
  /** @param box of the sample */
  sample(box: BoxMm): Shape[];
}

const SAMPLE_MM = { width: 11, height: 4 } as const;
const LINE_MM = LETTERS.small * 1.2;

const middle = ({ left, right, top, bottom }: BoxMm): [number, number] => [
  (left + right) / 2,
  (top + bottom) / 2,
];

const across = (box: BoxMm): LineMm => ({
  points: [box.left, middle(box)[1], box.right, middle(box)[1]],
});

const corners = ({ left, top, right, bottom }: BoxMm): LineMm => ({
  points: [left, top, right, top, right, bottom, left, bottom],
  closed: true,
});

/** Entries in reading order: what is laid, what is dimensioned, what becomes of lawn, the site. */
function entries(every: number, words: SheetWords): Entry[] {
  const planEntry = (name: StyleName) => styleEntry(name, words);
  const blue = styleNamed("boundary-wire").stroke!.colour;
  return [
    planEntry("boundary-wire"),
    {
      key: "arrow",
      label: words.arrow,
      sample: (box) => [
        line(across(box).points, styleNamed("boundary-wire").stroke!),
        { kind: "path", lines: [arrowHead(...middle(box), 0)], fill: { colour: blue } },
      ],
    },
    { key: "paired-run", label: words.pairNote, sample: (box) => pairShapes([across(box)]) },
    planEntry("guide-wire"),
    ...(["straight", "bend", "pair"] as const).map((on) => ({
      key: `peg-${on}`,
      label: { straight: words.pegStraight, bend: words.pegBend, pair: words.pegPair }[on],
      sample: (box: BoxMm) => [pegShape(on, ...middle(box), 1.2)],
    })),
    {
      key: "guide-peg",
      label: words.style("guide-peg", styleNamed("guide-peg").label),
      sample: (box) => [
        {
          kind: "path",
          lines: [arrowHead(...middle(box), -Math.PI / 2, { length: 1.4, half: 0.8 })],
          fill: { colour: "#ffffff" },
          stroke: { colour: styleNamed("guide-wire").stroke!.colour, widthMm: 0.2 },
        },
      ],
    },
    {
      key: "numbers",
      label: words.pegNumbers(every),
      sample: (box) => [
        text("A10", middle(box)[0], middle(box)[1] + (LETTERS.small * CAPITALS_EM) / 2, {
          anchor: "middle",
        }),
      ],
    },
    {
      key: "joint",
      label: words.jointMark,
      sample: (box) => jointShapes(...middle(box)),
    },
    {
      key: "station",
      label: words.station,
      sample: (box) => stationShapes(box.right - 2, middle(box)[1], 0),
    },
    {
      key: "setin-mark",
      label: words.setinMark,
      sample: (box) => {
        const [x, y] = middle(box);
        return dimensionShapes([x - 0.8, y], [x + 0.8, y]).shapes;
      },
    },
    {
      key: "passage-mark",
      label: words.passageMark,
      sample: (box) => {
        const [x, y] = middle(box);
        return dimensionShapes([x - 3.5, y], [x + 3.5, y]).shapes;
      },
    },
    ...STYLE_NAMES.filter(
      (name) => name.startsWith("passage-") || styleNamed(name).fill !== undefined,
    ).map(planEntry),
    planEntry("edge-fall"),
    {
      key: "edge",
      label: words.edge,
      sample: (box) => [line(across(box).points, LAWN_EDGE)],
    },
    ...(Object.keys(EDGE_STROKES) as EdgeKind[]).map((kind) => ({
      key: `edge-${kind}`,
      label: words.edgeKind(kind),
      sample: (box: BoxMm) => [line(across(box).points, EDGE_STROKES[kind])],
    })),
    ...(Object.keys(SITE_STYLES) as (keyof typeof SITE_STYLES)[]).map((role) => ({
      key: role,
      label: words.role(role),
      sample: (box: BoxMm): Shape[] => {
        const { fill, hatch, dots, stroke } = SITE_STYLES[role];
        const rings = [corners(box)];
        return [
          { kind: "path", lines: rings, ...(fill && { fill }) },
          ...(hatch?.anglesDeg ?? []).map(
            (angleDeg): Shape => ({
              kind: "path",
              lines: hatchLines(rings, box, hatch!.spacingMm, angleDeg),
              stroke: { colour: hatch!.colour, widthMm: 0.13 },
            }),
          ),
          ...(dots
            ? [
                {
                  kind: "path" as const,
                  lines: dotLines(rings, box, dots.spacingMm),
                  stroke: { colour: dots.colour, widthMm: dots.sizeMm, round: true },
                },
              ]
            : []),
          { kind: "path", lines: rings, stroke },
        ];
      },
    })),
    ...(["outlet", "control"] as const).map((kind) => ({
      key: kind,
      label: words[kind],
      sample: (box: BoxMm) => pointShapes(kind, ...middle(box)),
    })),
  ];
}

function styleEntry(name: StyleName, words: SheetWords): Entry {
  const { label: english, stroke, fill } = styleNamed(name);
  const label = words.style(name, english);
  return {
    key: name,
    label,
    sample: (box) => {
      if (!fill) return stroke ? [line(across(box).points, stroke)] : [];
      const rings = [corners(box)];
      const { hatch } = fill;
      return [
        { kind: "path", lines: rings, fill: { colour: fill.colour, opacity: fill.opacity } },
        ...(hatch?.anglesDeg ?? []).map(
          (angleDeg): Shape => ({
            kind: "path",
            lines: hatchLines(rings, box, hatch!.spacingMm, angleDeg),
            stroke: { colour: hatch!.colour, widthMm: hatch!.widthMm },
          }),
        ),
        ...(stroke ? [{ kind: "path" as const, lines: rings, stroke }] : []),
      ];
    },
  };
}

/**
 * @param used keys of what is drawn
 * @param every every n-th peg has its number
 */
export function legendSection(
  used: ReadonlySet<string>,
  every: number,
  words: SheetWords,
  width: number,
): Section {
  const shown = entries(every, words).filter((entry) => used.has(entry.key));
  const columnMm = width / 2;
  const rows: Row[] = [];
  const half = Math.ceil(shown.length / 2);
  for (let i = 0; i < half; i++) {
    const pair = [shown[i]!, shown[i + half]].filter((one) => one !== undefined);
    const lines = pair.map((one) =>
      wrappedLines(one.label, columnMm - SAMPLE_MM.width - 3, LETTERS.small),
    );
    const count = Math.max(...lines.map((one) => one.length));
    const heightMm = Math.max(SAMPLE_MM.height + 1.2, count * LINE_MM + 1.2);
    rows.push({
      heightMm,
      draw: (x, y) =>
        pair.flatMap((entry, k) => {
          const left = x + k * columnMm;
          const box = {
            left,
            right: left + SAMPLE_MM.width,
            top: y,
            bottom: y + SAMPLE_MM.height,
          };
          const own = lines[k]!;
          const base =
            (box.top + box.bottom) / 2 +
            (LETTERS.small * CAPITALS_EM) / 2 -
            ((Math.min(own.length, 2) - 1) * LINE_MM) / 2;
          return [
            ...entry.sample(box),
            ...own.map((one, n) => text(one, box.right + 2, base + n * LINE_MM)),
          ];
        }),
    });
  }
  return { title: words.legend, rows };
}
