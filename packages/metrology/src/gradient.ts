import type { Evaluation } from "./model.ts";
import { Operation, partialA, partialB } from "./operations.ts";

/**
 * The derivatives of one node with respect to every node before it: one sweep back over the tape.
 * @param adjoints where they go, at least node + 1 long; for callers that ask for many gradients and keep none.
 * @returns one adjoint per node up to and including the node itself; those of the leaves are the gradient.
 */
export function gradient(
  { model, values, states }: Evaluation,
  node: number,
  adjoints = new Float64Array(node + 1),
): Float64Array {
  const { operations, a, b, c } = model.tape;
  adjoints.fill(0, 0, node + 1);
  adjoints[node] = 1;
  for (let index = node; index >= 0; index--) {
    const operation = operations[index]!;
    if (operation <= Operation.output) {
      if (operation === Operation.output && model.calls[c[index]!]!.first === index) {
        const { inputs, first, count } = model.calls[c[index]!]!;
        const { jacobian } = states[c[index]!]!;
        for (let k = 0; k < count && first + k <= node; k++) {
          const seed = adjoints[first + k]!;
          if (seed === 0) continue;
          for (let i = 0; i < inputs.length; i++) adjoints[inputs[i]!]! += seed * jacobian[k * inputs.length + i]!;
        }
      }
      continue;
    }
    const adjoint = adjoints[index]!;
    if (adjoint === 0) continue;
    const left = a[index]!;
    const right = b[index]!;
    const x = values[left]!;
    const y = right < 0 ? 0 : values[right]!;
    adjoints[left]! += adjoint * partialA(operation, x, y, c[index]!, values[index]!);
    if (right >= 0) adjoints[right]! += adjoint * partialB(operation, x, y, values[index]!);
  }
  return adjoints;
}

/**
 * The derivatives of one node with respect to every reading.
 * @param adjoints as {@link gradient} returns them for that node.
 * @returns one array per column of the model, row by row.
 */
export function readingGradient({ model, values, states }: Evaluation, adjoints: Float64Array): Float64Array[] {
  const into = model.columns.map(({ readings }) => new Float64Array(readings.length));
  const columns = model.columnValues;
  model.calls.forEach(({ kernel, spec, inputs, first, count }, number) => {
    if (!kernel.readingGradient) return;
    const seeds = Float64Array.from({ length: count }, (_, k) => adjoints[first + k] ?? 0);
    if (seeds.every((seed) => seed === 0)) return;
    const at = Float64Array.from(inputs, (input) => values[input]!);
    kernel.readingGradient(spec, at, columns, states[number]!, seeds, (column, row, derivative) => {
      into[column]![row]! += derivative;
    });
  });
  return into;
}
