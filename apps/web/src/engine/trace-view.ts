import { type Evaluation, formulaTexts, improvement, type TraceStep, traceQuantity } from "@alcedo-dosimetry/campaign";
import type { BudgetLine, TraceNode, TraceView } from "./orders.ts";
import { shownQuantity } from "./outcome.ts";

/**
 * One step of a quantity's origin: from the quantity by the given nodes upstream. Null where the quantity is not there or has
 * no model behind it; a way that is no longer there ends where it still is.
 */
export function traceView(evaluation: Evaluation, id: string, path: readonly number[]): TraceView | null {
  const quantity = evaluation.result.quantities.find((own) => own.id === id);
  const root = quantity && traceQuantity(evaluation, id);
  if (!quantity || !root) return null;
  const way = [root];
  for (const node of path) {
    const next = way.at(-1)!.inputs.find((input) => input.node === node);
    if (!next) break;
    way.push(next);
  }
  const step = way.at(-1)!;
  const texts = formulaTexts(step);
  const first = improvement(quantity);
  const ways = waysTo(root, new Set(quantity.budget.map(({ input }) => input)));
  return {
    quantity: shownQuantity(quantity),
    way: way.map(traceNode),
    step: traceNode(step),
    ...(step.formula && { formula: step.formula }),
    ...(texts && { texts }),
    inputs: step.inputs.map(traceNode),
    readings: step.readings ?? [],
    budget: quantity.budget
      .map(({ input, label, type, share }): BudgetLine => {
        const found = ways.get(input);
        return { label, type, share, ...(found && { path: found }) };
      })
      .sort((a, b) => b.share - a.share),
    ...(first && { improve: first }),
  };
}

function traceNode({ inputs, formula: _, readings: __, ...own }: TraceStep): TraceNode {
  return { ...own, isLeaf: inputs.length === 0 };
}

/** The way from the root to each of the keys by which most of it comes. */
function waysTo(root: TraceStep, keys: ReadonlySet<string>): ReadonlyMap<string, readonly number[]> {
  const found = new Map<string, { readonly path: readonly number[]; readonly share: number }>();
  const seen = new Map<number, number>();
  const walk = (step: TraceStep, path: readonly number[]) => {
    if (step.key !== undefined && keys.has(step.key)) {
      const before = found.get(step.key);
      if (!before || Math.abs(step.share) > Math.abs(before.share)) found.set(step.key, { path, share: step.share });
    }
    // a node that several others use stands under each of them: once more only where more comes by that way
    const share = Math.abs(step.share);
    if ((seen.get(step.node) ?? -1) >= share) return;
    seen.set(step.node, share);
    for (const input of step.inputs) walk(input, [...path, input.node]);
  };
  walk(root, []);
  return new Map([...found].map(([key, { path }]) => [key, path]));
}
