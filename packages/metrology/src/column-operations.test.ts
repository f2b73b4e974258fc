import { describe, expect, it } from "vitest";
import { applyToColumns, combineColumns, type Operand } from "./column-operations.ts";
import { forward, Operation, type OperationCode } from "./operations.ts";

const COUNT = 5;
/** One place more than is worked on: it must stay as it is. */
const A = Float64Array.of(0.3, 1.7, -2.2, 0.01, 5, 99);
const B = Float64Array.of(-1.1, 0.4, 3.3, 7, -0.2, 99);
const POSITIVE = A.map(Math.abs);

const BINARY = [Operation.add, Operation.subtract, Operation.multiply, Operation.divide];
const UNARY = [
  Operation.negate,
  Operation.squareRoot,
  Operation.exponential,
  Operation.logarithm,
  Operation.sine,
  Operation.cosine,
  Operation.errorFunction,
];

function applied(operation: OperationCode, a: Operand, b: Operand, c = 0): number[] {
  const out = new Float64Array(COUNT + 1).fill(7);
  applyToColumns(operation, out, a, b, c, COUNT);
  expect(out[COUNT]).toBe(7);
  return [...out.subarray(0, COUNT)];
}

function expected(operation: OperationCode, a: Operand, b: Operand, c = 0): number[] {
  const at = (x: Operand, i: number) => (typeof x === "number" ? x : x[i]!);
  return Array.from({ length: COUNT }, (_, i) => forward(operation, at(a, i), at(b, i), c));
}

describe("operations on columns", () => {
  it.each(BINARY)(
    "MC-4: operation %s gives what the tape's gives, to the bit, of columns and numbers in any place",
    (op) => {
      for (const [a, b] of [
        [A, B],
        [A, 3.7],
        [-0.6, B],
        [A, A],
        [2, 3],
      ] as [Operand, Operand][])
        expect(applied(op, a, b)).toEqual(expected(op, a, b));
    },
  );

  it("MC-4: an operation of two operands that is dear in itself reads both", () => {
    for (const [a, b] of [
      [POSITIVE, B.map(Math.abs)],
      [POSITIVE, 1.3],
      [0.4, POSITIVE],
    ] as [Operand, Operand][])
      expect(applied(Operation.blurredDisc, a, b)).toEqual(expected(Operation.blurredDisc, a, b));
  });

  it("MC-6: where an operation refuses its operands, that trial is NaN and no other", () => {
    const found = applied(Operation.blurredDisc, A, 1.3);
    expect(found.map((x) => Number.isNaN(x))).toEqual([false, false, true, false, false]);
    expect(found[0]).toBe(forward(Operation.blurredDisc, A[0]!, 1.3, 0));
  });

  it.each(UNARY)("MC-4: operation %s gives what the tape's gives, to the bit", (op) => {
    expect(applied(op, POSITIVE, 0)).toEqual(expected(op, POSITIVE, 0));
  });

  it.each([0, 1, 0.5, 3, -2, 1.7])("MC-4: power %s gives what the tape's gives, to the bit", (c) => {
    expect(applied(Operation.power, POSITIVE, 0, c)).toEqual(expected(Operation.power, POSITIVE, 0, c));
  });

  it.each([2, -1])("MC-4: power %s is plain arithmetic, the tape's to the last digit but one", (c) => {
    const [found, tape] = [applied(Operation.power, A, 0, c), expected(Operation.power, A, 0, c)];
    found.forEach((x, i) => {
      expect(Math.abs(x / tape[i]! - 1)).toBeLessThan(5e-16);
    });
  });

  it("MC-4: the result may be written over an operand", () => {
    const column = A.slice();
    applyToColumns(Operation.multiply, column, column, B, 0, COUNT);
    expect([...column.subarray(0, COUNT)]).toEqual(expected(Operation.multiply, A, B));
  });
});

describe("combinations of columns", () => {
  const columns = [A, B, POSITIVE, A.map((x) => x * x), B.map((x) => 1 / x), A, B, POSITIVE];
  const coefficients = [1.5, -2, 0.25, 3, -1, 0, 10, 0.1];

  it.each([0, 1, 2, 3, 4, 5, 6, 7, 8])("MC-4: a constant and %s columns add up", (terms) => {
    const out = new Float64Array(COUNT + 1).fill(7);
    combineColumns(out, 0.5, coefficients.slice(0, terms), columns.slice(0, terms), COUNT);
    for (let i = 0; i < COUNT; i++) {
      const sum = columns.slice(0, terms).reduce((total, column, k) => total + coefficients[k]! * column[i]!, 0.5);
      expect(out[i]).toBeCloseTo(sum, 12);
    }
    expect(out[COUNT]).toBe(7);
  });
});
