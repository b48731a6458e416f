/**
 * The known name nearest to a misspelt one, by edit distance (Levenshtein, Binary codes capable of
 * correcting deletions, insertions and reversals, 1966); undefined where none is near.
 */
export function nearestName(wrong: string, known: readonly string[]): string | undefined {
  let best: string | undefined;
  let least = Math.max(2, Math.floor(wrong.length / 2)) + 1;
  for (const name of known) {
    const distance = editDistance(wrong.toLowerCase(), name.toLowerCase());
    if (distance < least) {
      least = distance;
      best = name;
    }
  }
  return best;
}

/** Least number of letters to add, remove or change to make `b` of `a`. */
export function editDistance(a: string, b: string): number {
  let row = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) {
      const change = a[i - 1] === b[j - 1] ? 0 : 1;
      next.push(Math.min(row[j]! + 1, next[j - 1]! + 1, row[j - 1]! + change));
    }
    row = next;
  }
  return row[b.length]!;
}
