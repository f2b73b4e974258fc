import { type CoverageIntervals, coverageIntervals, fewestValues } from "./coverage-interval.ts";

/** Mean and standard deviation of trials. */
export interface Moments {
  readonly mean: number;
  /** With M − 1 (JCGM 101:2008, 7.6). */
  readonly u: number;
}

/** The trials that did not fail, in their order: those with a finite value. */
export function finiteTrials(values: Float64Array): Float64Array {
  let failures = 0;
  for (let i = 0; i < values.length; i++) if (!Number.isFinite(values[i]!)) failures++;
  if (failures === 0) return values;
  const finite = new Float64Array(values.length - failures);
  let next = 0;
  for (let i = 0; i < values.length; i++) if (Number.isFinite(values[i]!)) finite[next++] = values[i]!;
  return finite;
}

/**
 * Mean and standard deviation, taken about a number near the values so that they do not lose their digits.
 * @param values finite, two at least.
 * @param near the value at the estimates, say.
 */
export function momentsOf(values: Float64Array, near: number): Moments {
  const count = values.length;
  if (count < 2) throw new RangeError(`a standard deviation needs two trials at least, not ${count}`);
  let sum = 0;
  for (let i = 0; i < count; i++) sum += values[i]! - near;
  const shift = sum / count;
  const mean = near + shift;
  let squares = 0;
  let rest = 0;
  for (let i = 0; i < count; i++) {
    const difference = values[i]! - near - shift;
    squares += difference * difference;
    rest += difference;
  }
  return { mean, u: Math.sqrt(Math.max(0, squares - (rest * rest) / count) / (count - 1)) };
}

/** The intervals, where there are trials enough. */
export function intervalsOf(values: Float64Array, probability: number): CoverageIntervals | null {
  return values.length < fewestValues(probability) ? null : coverageIntervals(values, probability);
}
