import type { Model } from "./model.ts";
import { Operation } from "./operations.ts";

/**
 * Which nodes the asked ones depend on, as the formulas are written: one for each that they do, zero for each other.
 * @param indices numbers of the asked nodes.
 */
export function neededNodes(model: Model, indices: readonly number[]): Uint8Array {
  const { operations, a, b, c } = model.tape;
  const needed = new Uint8Array(operations.length);
  for (const index of indices) needed[index] = 1;
  for (let node = operations.length - 1; node >= 0; node--) {
    if (!needed[node]) continue;
    const operation = operations[node]!;
    if (operation === Operation.output) for (const input of model.calls[c[node]!]!.inputs) needed[input] = 1;
    else if (operation > Operation.output) {
      needed[a[node]!] = 1;
      if (b[node]! >= 0) needed[b[node]!] = 1;
    }
  }
  return needed;
}
