import type { Kernel, KernelState } from "./kernel.ts";
import type { Model } from "./model.ts";
import type { Program } from "./program.ts";
import { programFormula } from "./program-formula.ts";
import type { Scalar } from "./tape.ts";

/** What is averaged, over which rows. */
export interface MeanSpec {
  readonly program: Program;
  /** Numbers of the model's columns that fill the program's column slots. */
  readonly columns: readonly number[];
  /** Rows of those columns. */
  readonly rows: readonly number[];
  /** Number of the column of weights: 1 for a reading that counts, 0 for one that is left out. */
  readonly included: number;
}

/** A mean, with the value of every row behind it. */
export interface MeanState extends KernelState {
  /** Outputs × rows, output by output; rows that are left out too. */
  readonly perRow: Float64Array;
}

/**
 * The mean of a formula over rows, differentiable with respect to its scalars and to every reading. Leaving a reading
 * out is a change of its weight from 1 to 0, so that a comparison can say what it did.
 */
export const mappedMean: Kernel<MeanSpec, MeanState> = {
  kind: "mapped-mean",

  evaluate({ program, columns, rows, included }, scalars, all) {
    const data = columns.map((column) => all[column]!);
    const weights = all[included]!;
    const count = rows.length;
    let total = 0;
    for (let i = 0; i < count; i++) total += weights[rows[i]!]!;
    const shares = new Float64Array(count);
    for (let i = 0; i < count; i++) shares[i] = weights[rows[i]!]! / total;
    const { perRow, jacobian } = program.linearise(data, rows, scalars, shares);
    const outputs = new Float64Array(program.outputs.length);
    for (let k = 0; k < outputs.length; k++)
      for (let i = 0; i < count; i++)
        // a reading that is left out may be no number at all
        if (shares[i] !== 0) outputs[k]! += shares[i]! * perRow[k * count + i]!;
    return { outputs, jacobian, perRow };
  },

  readingGradient({ program, columns, rows, included }, scalars, all, { outputs, perRow }, seeds, visit) {
    const data = columns.map((column) => all[column]!);
    const weights = all[included]!;
    const count = rows.length;
    const total = rows.reduce((n, row) => n + weights[row]!, 0);
    const live = rows.filter((row) => weights[row]! !== 0);
    const rowSeeds = new Float64Array(outputs.length * live.length);
    for (let k = 0; k < outputs.length; k++)
      for (let i = 0; i < live.length; i++) rowSeeds[k * live.length + i] = (seeds[k]! * weights[live[i]!]!) / total;
    const into = new Float64Array(columns.length * live.length);
    program.pullBack(data, live, scalars, rowSeeds, new Float64Array(scalars.length), into);
    columns.forEach((column, m) => {
      live.forEach((row, i) => {
        visit(column, row, into[m * live.length + i]!);
      });
    });
    rows.forEach((row, i) => {
      let derivative = 0;
      for (let k = 0; k < outputs.length; k++)
        if (seeds[k] !== 0) derivative += (seeds[k]! * (perRow[k * count + i]! - outputs[k]!)) / total;
      if (Number.isFinite(derivative)) visit(included, row, derivative);
    });
  },

  formula({ program, rows, included }, output, inputs, all) {
    const count = rows.filter((row) => all[included]![row] !== 0).length;
    return { kind: "mean", of: programFormula(program, output, inputs), count };
  },
};

/**
 * Writes the mean of a program's results over rows into the model.
 * @param scalars the nodes that fill the program's scalar slots.
 * @throws RangeError where no reading counts, or where a column has no such row.
 */
export function mean(model: Model, spec: MeanSpec, scalars: readonly Scalar[]): { means: Scalar[]; state: MeanState } {
  for (const number of [...spec.columns, spec.included]) {
    const column = model.columns[number];
    const beyond = spec.rows.find((row) => !(row < (column?.values.length ?? 0)));
    if (beyond !== undefined)
      throw new RangeError(
        `the mean needs row ${beyond} of ${column ? `${column.series}/${column.name}` : `column ${number}`}, which is not there`,
      );
  }
  const weights = model.columns[spec.included]!.values;
  if (!spec.rows.some((row) => weights[row]! !== 0)) throw new RangeError("a mean of no readings has no value");
  const { outputs, state } = model.call(mappedMean, spec, scalars, spec.program.units);
  return { means: outputs, state };
}
