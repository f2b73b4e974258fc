import { withoutNegativeParts } from "./definite.ts";

type Matrix = readonly (readonly number[])[];

/** Repeats of one condition, all in the units in which conditions are alike. */
export interface RepeatSet {
  /** Σ of products of the deviations from the means. */
  readonly products: Matrix;
  readonly dof: number;
  /** What the reader's noise makes of one reading's covariance, where it is known. */
  readonly reader?: Matrix;
}

/**
 * The covariance of one reading of each condition, as all of them together tell it. What the reader's noise makes of it is
 * known condition by condition; the rest is common. So that the common part is not told by the noisiest, each condition
 * counts in inverse proportion to the square of its variance, which is found in three rounds from all counting alike.
 *
 * @param apart conditions that do not take part.
 * @param judged how many of the first columns that is told from.
 */
export function commonCovariances(sets: readonly RepeatSet[], apart: ReadonlySet<number>, judged: number): Matrix[] {
  const part = sets.map(({ dof }, i) => (apart.has(i) ? 0 : dof));
  if (part.every((dof) => dof === 0)) return sets.map(({ products }) => products.map((row) => row.map(() => 0)));
  let found = sharedOut(sets, part, judged);
  if (sets.some(({ reader }) => !reader)) return found.covariances;
  for (let time = 0; time < 3; time++) {
    const { mean, covariances, least } = found;
    const counts = covariances.map((own, i) => {
      let sum = 0;
      for (let c = 0; c < judged; c++)
        sum += mean[c]![c]! > 0 ? Math.max(own[c]![c]!, least[i]![c]![c]!) / mean[c]![c]! : 1;
      return (part[i]! * judged * judged) / (sum * sum);
    });
    found = sharedOut(sets, counts, judged);
  }
  return found.covariances.map((own, i) => {
    const floor = found.least[i]!;
    const above = own.map((row, c) => row.map((cell, d) => cell - floor[c]![d]!));
    return withoutNegativeParts(above).map((row, c) => row.map((cell, d) => cell + floor[c]![d]!));
  });
}

function sharedOut(
  sets: readonly RepeatSet[],
  counts: readonly number[],
  judged: number,
): { mean: Matrix; covariances: Matrix[]; least: Matrix[] } {
  const whole = counts.reduce((sum, count) => sum + count, 0);
  const meanOf = (cell: (set: RepeatSet, c: number, d: number) => number): number[][] =>
    sets[0]!.products.map((row, c) =>
      row.map((_, d) =>
        sets.reduce((sum, set, i) => (counts[i] === 0 ? sum : sum + (counts[i]! / whole) * cell(set, c, d)), 0),
      ),
    );
  const mean = meanOf(({ products, dof }, c, d) => products[c]![d]! / dof);
  const noise = meanOf(({ reader }, c, d) => (reader ? reader[c]![d]! : 0));
  // The repeats cannot show less than the reader's noise alone makes, but by chance: beyond half as much again that noise
  // is smaller than it seems.
  const borne = noise.map((_, c) => {
    const [shown, claimed] = [1.5 * mean[c % judged]![c % judged]!, noise[c % judged]![c % judged]!];
    return claimed > shown ? Math.sqrt(shown / claimed) : 1;
  });
  const readers = sets.map(({ reader }) =>
    mean.map((row, c) => row.map((_, d) => (reader ? borne[c]! * borne[d]! * reader[c]![d]! : 0))),
  );
  return {
    mean,
    covariances: sets.map(({ reader }, i) =>
      mean.map((row, c) =>
        row.map((cell, d) => (reader ? cell + readers[i]![c]![d]! - borne[c]! * borne[d]! * noise[c]![d]! : cell)),
      ),
    ),
    // half of the reader's noise is there in any case
    least: readers.map((own) => own.map((row) => row.map((cell) => cell / 2))),
  };
}
