import type { Shift } from "./elementary-input.ts";

/** The reference's corrected signal at one visit. */
export interface ReferenceVisit {
  readonly time?: number;
  readonly signal: number;
}

/** What stands in the denominator of an output factor. */
export interface ReferenceSignal {
  readonly signal: number;
  /** `w(1 − w)`: the part of τ² to bear at this place between two visits; zero at and beyond them, and without times. */
  readonly exposure: number;
}

/** Key of what the reference may have done between two visits, as a fraction, field by field. */
export const wanderKey = (condition: string) => `output-factors/${condition}/reference-between-visits`;

/**
 * The reference at a field's mean time: linear between the visits before and after, the nearest outside; the visits' mean
 * where times are wanting.
 */
export function referenceAt(
  visits: readonly ReferenceVisit[],
  field: { readonly condition: string; readonly time?: number },
  shift: Shift,
): ReferenceSignal {
  const wander = 1 + shift(wanderKey(field.condition));
  const { time } = field;
  if (time === undefined || visits.some((visit) => visit.time === undefined)) {
    return { signal: (visits.reduce((sum, { signal }) => sum + signal, 0) / visits.length) * wander, exposure: 0 };
  }
  const after = visits.findIndex((visit) => visit.time! > time);
  if (after === 0) return { signal: visits[0]!.signal * wander, exposure: 0 };
  if (after === -1) return { signal: visits[visits.length - 1]!.signal * wander, exposure: 0 };
  const [before, next] = [visits[after - 1]!, visits[after]!];
  const w = (time - before.time!) / (next.time! - before.time!);
  return { signal: ((1 - w) * before.signal + w * next.signal) * wander, exposure: w * (1 - w) };
}
