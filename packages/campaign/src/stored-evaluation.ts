import { restore, Scalar, type StoredModel, store } from "@alcedo-dosimetry/metrology";
import type { Evaluation } from "./evaluate.ts";
import type { Quantity, Result } from "./result.ts";

/** An evaluation as plain JSON: its figures with the graph they came from. Budgets are left out, they follow from the graph. */
export interface StoredEvaluation {
  readonly result: Omit<Result, "quantities"> & { readonly quantities: readonly Omit<Quantity, "budget">[] };
  /** The measurement model. */
  readonly model: StoredModel;
  /** The node of the model behind each quantity that has one. */
  readonly nodes: Readonly<Record<string, number>>;
}

/** An evaluation to be kept with its graph; undefined where the campaign could not be evaluated and there is none. */
export function storeEvaluation({ result, model, nodes }: Evaluation): StoredEvaluation | undefined {
  if (model === undefined) return undefined;
  const quantities = result.quantities.map(({ budget: _budget, ...quantity }) => quantity);
  const places = [...nodes].map(([id, { index }]) => [id, index] as const);
  return { result: { ...result, quantities }, model: store(model), nodes: Object.fromEntries(places) };
}

/**
 * The evaluation that was stored, by whatever version of the program: to be traced and compared. Its quantities have no
 * budgets, and nothing for pictures.
 *
 * @throws RangeError where the model is of a version that cannot be read
 */
export function restoreEvaluation({ result, model, nodes }: StoredEvaluation): Evaluation {
  const restored = restore(model);
  const quantities = result.quantities.map((quantity): Quantity => ({ ...quantity, budget: [] }));
  return {
    result: { ...result, quantities },
    model: restored,
    nodes: new Map(Object.entries(nodes).map(([id, index]) => [id, new Scalar(restored.tape, index)])),
  };
}
