/**
 * Metres in one unit by the header's `$INSUNITS` (DXF reference, "HEADER Section Group Codes"); feet
 * and inches by NIST SP 811 (0.3048 m; US survey foot 1200/3937 m).
 */
const UNITS: Readonly<Record<number, readonly [name: string, metres: number]>> = {
  1: ["inches", 0.0254],
  2: ["feet", 0.3048],
  3: ["miles", 1609.344],
  4: ["millimetres", 0.001],
  5: ["centimetres", 0.01],
  6: ["metres", 1],
  7: ["kilometres", 1000],
  8: ["microinches", 0.0254e-6],
  9: ["mils", 0.0254e-3],
  10: ["yards", 0.9144],
  13: ["micrometres", 1e-6],
  14: ["decimetres", 0.1],
  15: ["decametres", 10],
  16: ["hectometres", 100],
  21: ["US survey feet", 1200 / 3937],
  22: ["US survey inches", 100 / 3937],
  23: ["US survey yards", 3600 / 3937],
  24: ["US survey miles", (5280 * 1200) / 3937],
};

/** The unit that the drawing says its lengths are in; undefined where it says none. */
export function drawingUnit(
  header: Readonly<Record<string, unknown>> | undefined,
): { name: string; metres: number } | undefined {
  const code = header?.$INSUNITS;
  const unit = typeof code === "number" ? UNITS[code] : undefined;
  return unit && { name: unit[0], metres: unit[1] };
}
