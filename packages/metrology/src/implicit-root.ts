import { bracketedRoot } from "./bracketed-root.ts";
import { type Formula, formulaText } from "./formula.ts";
import type { Kernel } from "./kernel.ts";
import type { Model } from "./model.ts";
import type { Program } from "./program.ts";
import { programFormula } from "./program-formula.ts";
import type { Scalar } from "./tape.ts";

/** An equation f(x₁ … xₙ, y) = 0 to be solved for its last unknown. */
export interface RootSpec {
  /** Without columns; its scalar slots are x₁ … xₙ and then y, its one output is f. */
  readonly program: Program;
  /** Ends between which f changes its sign. */
  readonly low: number;
  readonly high: number;
}

const ROW = [0];

/**
 * The y that solves an equation between other nodes. Its derivatives follow from the equation itself:
 * dy/dx = −(∂f/∂x)/(∂f/∂y).
 */
export const implicitRoot: Kernel<RootSpec> = {
  kind: "implicit-root",

  evaluate({ program, low, high }, inputs) {
    const n = inputs.length;
    const at = new Float64Array(n + 1);
    at.set(inputs);
    const f = (y: number) => {
      at[n] = y;
      return program.evaluate([], ROW, at)[0]!;
    };
    const root = bracketedRoot(f, low, high);
    at[n] = root;
    const { jacobian } = program.linearise([], ROW, at, [1]);
    return {
      outputs: Float64Array.of(root),
      jacobian: jacobian.subarray(0, n).map((partial) => -partial / jacobian[n]!),
    };
  },

  formula({ program }): Formula {
    const equation = programFormula(
      program,
      0,
      program.scalars.map(({ symbol }) => ({ kind: "symbol", symbol })),
    );
    return {
      kind: "solution",
      of: program.scalars.at(-1)!.symbol,
      where: `for which ${formulaText(equation, String)} = 0`,
    };
  },
};

/**
 * Writes the solution of an equation into the model.
 * @throws RangeError where f does not change its sign between the ends.
 */
export function rootOf(model: Model, spec: RootSpec, inputs: readonly Scalar[]): Scalar {
  const unit = spec.program.scalars[inputs.length]!.unit;
  return model.call(implicitRoot, spec, inputs, [unit]).outputs[0]!;
}
