import type { ColumnGraph, Varying, Work } from "./column-graph.ts";
import { implicitRoot, type RootSpec } from "./implicit-root.ts";
import { addImplicitRoot } from "./implicit-root-columns.ts";
import type { KernelState } from "./kernel.ts";
import { type MeanSpec, mappedMean } from "./mapped-mean.ts";
import { addMappedMean } from "./mapped-mean-columns.ts";
import type { Call } from "./model.ts";
import { IndeterminateFitError, type StructuralSpec, type StructuralState, structuralFit } from "./structural-fit.ts";
import { addStructuralFit } from "./structural-fit-columns.ts";

/**
 * A kernel's call where some of its inputs vary from trial to trial.
 * @param at all inputs at the estimates.
 * @param state what the kernel found there.
 * @param columns the columns of the model, by number.
 * @returns its outputs.
 */
export function addKernel(
  graph: ColumnGraph,
  call: Call,
  inputs: readonly Varying[],
  at: Float64Array,
  state: KernelState,
  columns: readonly ArrayLike<number>[],
): Varying[] {
  if (inputs.every((input) => typeof input === "number")) return Array.from(state.outputs);
  if (call.kernel === mappedMean) return addMappedMean(graph, call.spec as MeanSpec, inputs, columns);
  if (call.kernel === structuralFit)
    return addStructuralFit(graph, call.spec as StructuralSpec, inputs, state as StructuralState, at);
  if (call.kernel === implicitRoot) return addImplicitRoot(graph, call.spec as RootSpec, inputs, at, state);
  return addTrialByTrial(graph, call, inputs, at, columns);
}

/**
 * Any kernel as it is: evaluated once for each trial, derivatives and all. Where it finds nothing at a trial's inputs
 * (no minimum, no change of sign between the ends), the trial's outputs are NaN.
 */
function addTrialByTrial(
  graph: ColumnGraph,
  { kernel, spec, count: outputs }: Call,
  inputs: readonly Varying[],
  at: Float64Array,
  all: readonly ArrayLike<number>[],
): Varying[] {
  const varying = inputs.flatMap((input, k) => (typeof input === "number" ? [] : [{ k, input }]));
  return graph.add({
    inputs: varying.map(({ input }) => input),
    outputs,
    scratch: 0,
    cost: 10_000,
    bind(columns, out): Work {
      const trial = at.slice();
      const outputsAt = (values: Float64Array) => {
        try {
          return kernel.evaluate(spec, values, all).outputs;
        } catch (error) {
          if (error instanceof RangeError || error instanceof IndeterminateFitError) return undefined;
          throw error;
        }
      };
      return (count) => {
        for (let i = 0; i < count; i++) {
          varying.forEach(({ k }, v) => {
            trial[k] = columns[v]![i]!;
          });
          const found = outputsAt(trial);
          out.forEach((column, j) => {
            if (column) column[i] = found ? found[j]! : Number.NaN;
          });
        }
      };
    },
  });
}
