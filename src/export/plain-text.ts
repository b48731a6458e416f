/** Small helpers for text that people read. */

/**
 * Rows under headings, columns as wide as they must be.
 *
 * @param rightFrom columns of figures, from this one up to `leftFrom`, stand to the right
 */
export function table(
  rows: readonly (readonly string[])[],
  rightFrom = 1,
  leftFrom = Infinity,
): string[] {
  const widths = (rows[0] ?? []).map((_, column) =>
    Math.max(...rows.map((row) => [...(row[column] ?? "")].length)),
  );
  return rows.map((row) =>
    row
      .map((cell, column) =>
        column >= rightFrom && column < leftFrom
          ? cell.padStart(widths[column]!)
          : cell.padEnd(widths[column]!),
      )
      .join("  ")
      .trimEnd(),
  );
}

/** Breaks a paragraph into lines of at most `width`, each but the first indented. */
export function wrapped(text: string, indent: string, width = 96): string {
  const lines: string[] = [];
  let line = "";
  for (const word of text.split(/\s+/)) {
    if (line && `${indent}${line} ${word}`.length > width) {
      lines.push(line);
      line = word;
    } else {
      line = line ? `${line} ${word}` : word;
    }
  }
  lines.push(line);
  return lines.join(`\n${indent}`);
}
