import { forward, Operation, type OperationCode, partialA, partialB } from "./operations.ts";

/**
 * One operation of a program on a strip of rows. The four that make up nearly all of a formula are written out: a call
 * for every number costs more than the arithmetic. What they are is said by `operations.ts`, and a test holds the two
 * equal to the last bit.
 *
 * @param values one strip per node, end to end; `left`, `right` and `here` are where those of the operands and of the
 *   result begin, `right` below zero for operations of one operand.
 */
export function forwardStrip(
  operation: OperationCode,
  values: Float64Array,
  left: number,
  right: number,
  here: number,
  length: number,
  c: number,
): void {
  switch (operation) {
    case Operation.add:
      for (let i = 0; i < length; i++) values[here + i] = values[left + i]! + values[right + i]!;
      return;
    case Operation.subtract:
      for (let i = 0; i < length; i++) values[here + i] = values[left + i]! - values[right + i]!;
      return;
    case Operation.multiply:
      for (let i = 0; i < length; i++) values[here + i] = values[left + i]! * values[right + i]!;
      return;
    case Operation.divide:
      for (let i = 0; i < length; i++) values[here + i] = values[left + i]! / values[right + i]!;
      return;
    default:
      for (let i = 0; i < length; i++)
        values[here + i] = forward(operation, values[left + i]!, right < 0 ? 0 : values[right + i]!, c);
  }
}

/**
 * Carries the adjoints of a strip from the result of an operation to its operands.
 * @param adjoints laid out as the values are; those of the operands are added to. Where a result has the adjoint zero its
 *   operands are not touched, whatever they hold.
 */
export function backwardStrip(
  operation: OperationCode,
  values: Float64Array,
  adjoints: Float64Array,
  left: number,
  right: number,
  here: number,
  length: number,
  c: number,
): void {
  switch (operation) {
    case Operation.add:
      for (let i = 0; i < length; i++) {
        const adjoint = adjoints[here + i]!;
        adjoints[left + i]! += adjoint;
        adjoints[right + i]! += adjoint;
      }
      return;
    case Operation.subtract:
      for (let i = 0; i < length; i++) {
        const adjoint = adjoints[here + i]!;
        adjoints[left + i]! += adjoint;
        adjoints[right + i]! -= adjoint;
      }
      return;
    case Operation.multiply:
      for (let i = 0; i < length; i++) {
        const adjoint = adjoints[here + i]!;
        if (adjoint === 0) continue;
        const x = values[left + i]!;
        adjoints[left + i]! += adjoint * values[right + i]!;
        adjoints[right + i]! += adjoint * x;
      }
      return;
    case Operation.divide:
      for (let i = 0; i < length; i++) {
        const adjoint = adjoints[here + i]!;
        if (adjoint === 0) continue;
        const inverse = 1 / values[right + i]!;
        const byDivisor = -values[here + i]! / values[right + i]!;
        adjoints[left + i]! += adjoint * inverse;
        adjoints[right + i]! += adjoint * byDivisor;
      }
      return;
    default:
      for (let i = 0; i < length; i++) {
        const adjoint = adjoints[here + i]!;
        if (adjoint === 0) continue;
        const x = values[left + i]!;
        const y = right < 0 ? 0 : values[right + i]!;
        const v = values[here + i]!;
        adjoints[left + i]! += adjoint * partialA(operation, x, y, c, v);
        if (right >= 0) adjoints[right + i]! += adjoint * partialB(operation, x, y, v);
      }
  }
}
