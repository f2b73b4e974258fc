import { RankedValues } from "./ranked-values.ts";

/** From low to high, both included. */
export interface Interval {
  readonly low: number;
  readonly high: number;
}

/** The two intervals of JCGM 101:2008, 7.7. */
export interface CoverageIntervals {
  /** As much probability below as above it. */
  readonly symmetric: Interval;
  /** The shortest of all. */
  readonly shortest: Interval;
}

/**
 * The fewest values from which an interval of that probability can be read: one must lie outside.
 * @throws RangeError unless 0 < probability < 1.
 */
export function fewestValues(probability: number): number {
  requireProbability(probability);
  let count = Math.ceil(1 / (1 - probability)) >> 1;
  while (count - covered(count, probability) < 1) count++;
  return count;
}

/**
 * Coverage intervals from trials, by JCGM 101:2008, 7.7: of M values in order, q = pM (rounded) lie between the ends;
 * the symmetric interval starts at the ((M − q)/2)-th, rounded up, the shortest where y₍r₊q₎ − y₍r₎ is least (the first
 * r of several).
 *
 * @param values finite numbers, in any order.
 * @throws RangeError where there are too few of them for a value to lie outside.
 */
export function coverageIntervals(values: Float64Array, probability: number): CoverageIntervals {
  const ranked = rank(values, probability);
  const span = covered(values.length, probability);
  const first = startOf(ranked, span);
  ranked.prepare([first, first + span], span);
  const start = ranked.shortest(span);
  return {
    symmetric: symmetric(ranked, span),
    shortest: { low: ranked.at(start), high: ranked.at(start + span) },
  };
}

/** The symmetric one alone. */
export function symmetricInterval(values: Float64Array, probability: number): Interval {
  return symmetric(rank(values, probability), covered(values.length, probability));
}

function rank(values: Float64Array, probability: number): RankedValues {
  requireProbability(probability);
  if (values.length - covered(values.length, probability) < 1)
    throw new RangeError(
      `${values.length} trials are too few for an interval that covers ${probability}: ${fewestValues(probability)} are needed`,
    );
  return new RankedValues(values);
}

function symmetric(ranked: RankedValues, span: number): Interval {
  const first = startOf(ranked, span);
  return { low: ranked.at(first), high: ranked.at(first + span) };
}

/** Where the symmetric interval starts, from 0; the standard counts from 1. */
function startOf({ count }: RankedValues, span: number): number {
  return Math.floor((count - span + 1) / 2) - 1;
}

/** q: how many ranks the ends lie apart. */
function covered(count: number, probability: number): number {
  return Math.floor(probability * count + 0.5);
}

function requireProbability(probability: number): void {
  if (!(probability > 0 && probability < 1))
    throw new RangeError(`a coverage probability lies between 0 and 1, such as 0.95, not ${probability}`);
}
