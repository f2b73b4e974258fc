import type { Scalar } from "@alcedo-dosimetry/metrology";

/** What lies outside the range in which a formula was published: facts, for others to word. */
export interface OutOfRange {
  /** What lies outside, such as `A/B`. */
  readonly quantity: string;
  readonly value: number;
  /** Symbol of the unit of `value`. */
  readonly unit: string;
  /** Where the formula holds, such as `0.7 < A/B < 1.4`, in the same unit. */
  readonly holds: string;
}

/**
 * A node, and whether the formula behind it holds at the estimates.
 *
 * The node is written either way: a value from beyond the range is worth looking at, and whoever asks decides what
 * becomes of it. Formulas that are published without a range return a bare node.
 */
export interface Qualified {
  readonly node: Scalar;
  readonly valid: boolean;
  /** Present where `valid` is false. */
  readonly reason?: OutOfRange;
}

/** A node with its verdict; the reason is kept where there is need of one. */
export function qualified(node: Scalar, valid: boolean, reason: OutOfRange): Qualified {
  return valid ? { node, valid } : { node, valid, reason };
}
