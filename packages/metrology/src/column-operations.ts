import {
  accumulate,
  accumulateThree,
  add,
  combineThree,
  combineTwo,
  divide,
  divideBy,
  divideInto,
  multiply,
  root,
  scale,
  shift,
  subtract,
} from "./column-loops.ts";
import { forward, Operation, type OperationCode } from "./operations.ts";

/** A number, the same in every trial, or a column: one number per trial. */
export type Operand = number | Float64Array;

/**
 * One operation of a tape on the first `count` trials. `out` may be one of the operands.
 * @param b zero for operations of one operand.
 * @param c the exponent of `power`.
 */
export function applyToColumns(
  operation: OperationCode,
  out: Float64Array,
  a: Operand,
  b: Operand,
  c: number,
  count: number,
): void {
  if (typeof a === "number" && typeof b === "number") {
    out.fill(forward(operation, a, b, c), 0, count);
    return;
  }
  switch (operation) {
    case Operation.add:
      if (typeof a === "number") shift(out, b as Float64Array, 1, a, count);
      else if (typeof b === "number") shift(out, a, 1, b, count);
      else add(out, a, b, count);
      return;
    case Operation.subtract:
      if (typeof a === "number") shift(out, b as Float64Array, -1, a, count);
      else if (typeof b === "number") shift(out, a, 1, -b, count);
      else subtract(out, a, b, count);
      return;
    case Operation.multiply:
      if (typeof a === "number") scale(out, b as Float64Array, a, count);
      else if (typeof b === "number") scale(out, a, b, count);
      else multiply(out, a, b, count);
      return;
    case Operation.divide:
      if (typeof a === "number") divideInto(out, a, b as Float64Array, count);
      else if (typeof b === "number") divideBy(out, a, b, count);
      else divide(out, a, b, count);
      return;
    case Operation.negate:
      scale(out, a as Float64Array, -1, count);
      return;
    case Operation.squareRoot:
      root(out, a as Float64Array, count);
      return;
    case Operation.power:
      if (c === 2) multiply(out, a as Float64Array, a as Float64Array, count);
      else if (c === -1) divideInto(out, 1, a as Float64Array, count);
      else each(operation, out, a, b, c, count);
      return;
    default:
      each(operation, out, a, b, c, count);
  }
}

/**
 * constant + Σ coefficient·column; `out` may be the first of the columns, and no other.
 * @param columns as many as there are coefficients.
 */
export function combineColumns(
  out: Float64Array,
  constant: number,
  coefficients: ArrayLike<number>,
  columns: readonly Float64Array[],
  count: number,
): void {
  const terms = columns.length;
  if (terms === 0) {
    out.fill(constant, 0, count);
    return;
  }
  let next = 0;
  for (let first = true; next < terms; first = false) {
    const left = terms - next;
    const a = columns[next]!;
    const ca = coefficients[next]!;
    if (left >= 3) {
      const b = columns[next + 1]!;
      const c = columns[next + 2]!;
      const cb = coefficients[next + 1]!;
      const cc = coefficients[next + 2]!;
      if (first) combineThree(out, constant, ca, a, cb, b, cc, c, count);
      else accumulateThree(out, ca, a, cb, b, cc, c, count);
      next += 3;
    } else if (left === 2 && first) {
      combineTwo(out, constant, ca, a, coefficients[next + 1]!, columns[next + 1]!, count);
      next += 2;
    } else {
      if (first) shift(out, a, ca, constant, count);
      else accumulate(out, ca, a, count);
      next += 1;
    }
  }
}

/** What costs more than the way to it. Outside its domain, where the tape refuses, a trial is no number. */
function each(operation: OperationCode, out: Float64Array, a: Operand, b: Operand, c: number, count: number): void {
  for (let i = 0; i < count; i++) {
    try {
      out[i] = forward(operation, typeof a === "number" ? a : a[i]!, typeof b === "number" ? b : b[i]!, c);
    } catch (error) {
      if (!(error instanceof RangeError)) throw error;
      out[i] = Number.NaN;
    }
  }
}
