import type { Row } from "./row.ts";

/** Where results go, so that the engine cannot leave their computation out. */
let kept: unknown;

/**
 * Times several ways of doing one thing, in turn, round after round; the first two rounds warm up and do not count.
 *
 * @param ways what is done, by name; each returns its result.
 * @param rounds that count; at least 3.
 * @returns a row for each way, with the median over the rounds, in milliseconds.
 */
export function interleaved(ways: Readonly<Record<string, () => unknown>>, rounds = 9): Row[] {
  if (!(rounds >= 3)) throw new RangeError(`a median needs at least 3 rounds, not ${rounds}`);
  const times = new Map(Object.keys(ways).map((what) => [what, [] as number[]]));
  for (let round = -2; round < rounds; round++) {
    for (const [what, way] of Object.entries(ways)) {
      const start = performance.now();
      kept = way();
      const ms = performance.now() - start;
      if (round >= 0) times.get(what)!.push(ms);
    }
  }
  if (kept === times) throw new Error("unreachable: reads `kept`, so that it is needed");
  return [...times].map(([what, all]) => ({ what, ms: median(all) }));
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const half = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[half]! : (sorted[half - 1]! + sorted[half]!) / 2;
}
