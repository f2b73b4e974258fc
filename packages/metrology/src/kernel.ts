import type { Formula } from "./formula.ts";

/** What a kernel found at given inputs. */
export interface KernelState {
  readonly outputs: Float64Array;
  /** ∂output/∂input, outputs × inputs, row by row. */
  readonly jacobian: Float64Array;
}

/**
 * A computation with several results whose derivatives are its own affair. The list of kernels is closed, so that a
 * stored model can be read back: a kernel is known by its kind, and what it needs beyond its inputs is plain data.
 *
 * @typeParam Spec what it needs beyond its inputs.
 * @typeParam State what it found, with whatever it wants to remember.
 */
export interface Kernel<Spec, State extends KernelState = KernelState> {
  readonly kind: string;
  /** @param columns the columns of the model, by number. */
  evaluate(spec: Spec, inputs: Float64Array, columns: readonly ArrayLike<number>[]): State;
  /**
   * The gradient of Σ seeds·outputs with respect to the readings that the kernel takes in itself.
   * @param visit is told of each: column by number, row, derivative.
   */
  readingGradient?(
    spec: Spec,
    inputs: Float64Array,
    columns: readonly ArrayLike<number>[],
    state: State,
    seeds: ArrayLike<number>,
    visit: (column: number, row: number, derivative: number) => void,
  ): void;
  /** How one of its outputs is written in a formula, given how its inputs are. */
  formula(spec: Spec, output: number, inputs: readonly Formula[], columns: readonly ArrayLike<number>[]): Formula;
}
