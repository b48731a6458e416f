/** A stretch of a day, minutes after midnight. */
export interface Span {
  readonly fromMin: number;
  readonly toMin: number;
}

/** What is left of spans when another is taken out. */
export function without(spans: readonly Span[], out: Span): Span[] {
  return spans.flatMap(({ fromMin, toMin }) => {
    if (out.toMin <= fromMin || out.fromMin >= toMin) return [{ fromMin, toMin }];
    const left = [
      { fromMin, toMin: out.fromMin },
      { fromMin: out.toMin, toMin },
    ];
    return left.filter((span) => span.toMin > span.fromMin);
  });
}

/** Minutes of a clock text `HH:MM`; 24:00 is the end of the day. */
export function minutesOf(clock: string): number {
  const [hours, minutes] = clock.split(":").map(Number);
  return 60 * hours! + minutes!;
}

/** `HH:MM` of minutes after midnight. */
export function clockOf(minutes: number): string {
  const pad = (value: number) => String(value).padStart(2, "0");
  return `${pad(Math.floor(minutes / 60))}:${pad(minutes % 60)}`;
}
