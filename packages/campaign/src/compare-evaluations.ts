import { type Comparison, compare } from "@alcedo-dosimetry/metrology";
import type { Evaluation } from "./evaluate.ts";
import type { Quantity } from "./result.ts";

/** One quantity in two evaluations. */
export interface QuantityComparison extends Comparison {
  readonly id: string;
  readonly label: string;
  readonly symbol: string;
  readonly unit: string;
  readonly uBefore: number | null;
  readonly uAfter: number | null;
}

/** Two evaluations side by side. */
export interface EvaluationComparison {
  /** Quantities that stand in both and have a model behind them, in the order of the first. */
  readonly quantities: readonly QuantityComparison[];
  readonly onlyBefore: readonly string[];
  readonly onlyAfter: readonly string[];
}

/** Compares two evaluations quantity by quantity, and attributes each change to the inputs that differ. */
export function compareEvaluations(before: Evaluation, after: Evaluation): EvaluationComparison {
  const there = new Map(after.result.quantities.map((quantity) => [quantity.id, quantity]));
  const here = new Set(before.result.quantities.map(({ id }) => id));
  return {
    quantities: before.result.quantities.flatMap((quantity) => compareQuantity(before, quantity, after, there) ?? []),
    onlyBefore: [...here].filter((id) => !there.has(id)),
    onlyAfter: [...there.keys()].filter((id) => !here.has(id)),
  };
}

function compareQuantity(
  before: Evaluation,
  { id, label, symbol, unit, u }: Quantity,
  after: Evaluation,
  there: ReadonlyMap<string, Quantity>,
): QuantityComparison | undefined {
  const other = there.get(id);
  const [a, b] = [before.nodes.get(id), after.nodes.get(id)];
  if (!other || !a || !b || !before.model || !after.model) return undefined;
  return { ...compare(before.model, a, after.model, b), id, label, symbol, unit, uBefore: u, uAfter: other.u };
}
