const LONGEST = 80;

/**
 * How many single-character steps lead from one word to the other: insertion, deletion, substitution, and the swap of two
 * neighbours (optimal string alignment). Words over 80 characters are compared by their first 80.
 */
export function editDistance(from: string, to: string): number {
  const a = from.slice(0, LONGEST);
  const b = to.slice(0, LONGEST);
  let beforeLast: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1];
      let steps = Math.min(last[j]! + 1, row[j - 1]! + 1, last[j - 1]! + (same ? 0 : 1));
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1])
        steps = Math.min(steps, beforeLast[j - 2]! + 1);
      row.push(steps);
    }
    beforeLast = last;
    last = row;
  }
  return last[b.length]!;
}

/**
 * The known word nearest to a mistyped one, letter case aside; the first of equals. `undefined` when nothing is near: more
 * than half of the longer word's letters would have to change.
 */
export function nearestKey(word: string, known: Iterable<string>): string | undefined {
  let best: string | undefined;
  let bestDistance = Number.POSITIVE_INFINITY;
  for (const candidate of known) {
    const distance = editDistance(word.toLowerCase(), candidate.toLowerCase());
    if (distance < bestDistance && distance * 2 <= Math.max(word.length, candidate.length)) {
      best = candidate;
      bestDistance = distance;
    }
  }
  return best;
}
