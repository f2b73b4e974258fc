import type { Column, ColumnGraph, Varying, Work } from "./column-graph.ts";
import { implicitRoot, type RootSpec } from "./implicit-root.ts";
import type { KernelState } from "./kernel.ts";
import { forward, Operation, partialA, partialB } from "./operations.ts";

/** Newton steps that a trial may take before the bracket is searched. */
const STEPS = 8;

/** A step that is this small, of the root, leaves an error that is rounding: Newton squares it. */
const SMALL = 1e-9;

/**
 * The root of an equation, trial by trial: by Newton's method from the first order prediction ŷ + J·(x − x̂), and where
 * that does not lead into the bracket by the kernel's own search. Where the ends of the bracket have one sign there is
 * no root, and the trial is NaN.
 *
 * @param at all inputs at the estimates.
 * @param state what the kernel found there.
 */
export function addImplicitRoot(
  graph: ColumnGraph,
  spec: RootSpec,
  inputs: readonly Varying[],
  at: Float64Array,
  state: KernelState,
): Column[] {
  const varying = inputs.flatMap((input, k) => (typeof input === "number" ? [] : [{ k, input }]));
  return graph.add({
    inputs: varying.map(({ input }) => input),
    outputs: 1,
    scratch: 0,
    cost: 3000,
    bind(columns, [out]): Work {
      const trial = new TrialRoot(spec, at, state);
      return (count) => {
        for (let i = 0; i < count; i++) {
          for (let v = 0; v < varying.length; v++) trial.inputs[varying[v]!.k] = columns[v]![i]!;
          out![i] = trial.solve();
        }
      };
    },
  });
}

/** One trial's root; all arrays are made once. */
class TrialRoot {
  readonly inputs: Float64Array;
  readonly #spec: RootSpec;
  readonly #at: Float64Array;
  readonly #state: KernelState;
  /** Of every node of the equation: its value, and its derivative with respect to the unknown. */
  readonly #values: Float64Array;
  readonly #derivatives: Float64Array;

  constructor(spec: RootSpec, at: Float64Array, state: KernelState) {
    this.#spec = spec;
    this.#at = at;
    this.#state = state;
    this.inputs = at.slice();
    this.#values = new Float64Array(spec.program.tape.length);
    this.#derivatives = new Float64Array(spec.program.tape.length);
  }

  solve(): number {
    const { low, high } = this.#spec;
    if (!(this.#equation(low, false) * this.#equation(high, false) <= 0)) return Number.NaN;
    let y = this.#state.outputs[0]!;
    for (let k = 0; k < this.inputs.length; k++) y += this.#state.jacobian[k]! * (this.inputs[k]! - this.#at[k]!);
    for (let step = 0; step < STEPS; step++) {
      if (!(y > low && y < high)) break;
      const change = this.#equation(y, true) / this.#derivatives[this.#spec.program.outputs[0]!]!;
      y -= change;
      if (Math.abs(change) <= SMALL * Math.abs(y)) return y;
    }
    return implicitRoot.evaluate(this.#spec, this.inputs, []).outputs[0]!;
  }

  /** f at an unknown, with or without its derivative beside it; NaN where an operation refuses its operands. */
  #equation(unknown: number, derive: boolean): number {
    const { operations, a, b, c, length } = this.#spec.program.tape;
    const values = this.#values;
    const derivatives = this.#derivatives;
    const n = this.inputs.length;
    for (let k = 0; k < n; k++) values[k] = this.inputs[k]!;
    values[n] = unknown;
    derivatives[n] = 1;
    try {
      for (let node = n + 1; node < length; node++) {
        const operation = operations[node]!;
        if (operation === Operation.literal) {
          values[node] = c[node]!;
          continue;
        }
        const left = a[node]!;
        const right = b[node]!;
        const x = values[left]!;
        const y = right < 0 ? 0 : values[right]!;
        const value = forward(operation, x, y, c[node]!);
        values[node] = value;
        if (!derive) continue;
        let derivative = 0;
        if (derivatives[left] !== 0) derivative = derivatives[left]! * partialA(operation, x, y, c[node]!, value);
        if (right >= 0 && derivatives[right] !== 0)
          derivative += derivatives[right]! * partialB(operation, x, y, value);
        derivatives[node] = derivative;
      }
    } catch (error) {
      if (!(error instanceof RangeError)) throw error;
      return Number.NaN;
    }
    return values[this.#spec.program.outputs[0]!]!;
  }
}
