import type { KernelState } from "./kernel.ts";
import type { Evaluation, Model } from "./model.ts";
import { forward, Operation } from "./operations.ts";

/**
 * The model at other inputs.
 * @param changes new values of leaves, by node; all others stay at their estimates.
 * @throws RangeError where a change is not one of a leaf: it would be computed over.
 */
export function evaluateAt(model: Model, changes: ReadonlyMap<number, number>): Evaluation {
  const { operations, a, b, c, values: estimates } = model.tape;
  for (const node of changes.keys())
    if (operations[node] !== Operation.input) throw new RangeError(`node ${node} is not an input: it cannot be set`);
  const values = new Float64Array(operations.length);
  const states: KernelState[] = [];
  const columns = model.columnValues;
  for (let node = 0; node < values.length; node++) {
    const operation = operations[node]!;
    if (operation === Operation.input) values[node] = changes.get(node) ?? estimates[node]!;
    else if (operation === Operation.literal) values[node] = c[node]!;
    else if (operation === Operation.output) {
      const call = model.calls[c[node]!]!;
      if (node === call.first) {
        const inputs = Float64Array.from(call.inputs, (input) => values[input]!);
        states.push(call.kernel.evaluate(call.spec, inputs, columns));
      }
      values[node] = states[c[node]!]!.outputs[node - call.first]!;
    } else values[node] = forward(operation, values[a[node]!]!, b[node]! < 0 ? 0 : values[b[node]!]!, c[node]!);
  }
  return { model, values, states };
}
