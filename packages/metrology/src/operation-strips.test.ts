import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { backwardStrip, forwardStrip } from "./operation-strips.ts";
import { forward, Operation, type OperationCode, partialA, partialB } from "./operations.ts";

const TWO_OPERANDS = new Set<OperationCode>([
  Operation.add,
  Operation.subtract,
  Operation.multiply,
  Operation.divide,
  Operation.blurredDisc,
]);
const COMPUTED = Object.values(Operation).filter((code) => code > Operation.output);

/** Positive, so that roots, logarithms and discs have a value; far from the ends, so that nothing overflows. */
const number = fc.double({ min: 0.01, max: 20, noNaN: true });
const rows = fc.array(fc.tuple(number, number, fc.constantFrom(0, 1, -0.3)), { minLength: 1, maxLength: 7 });

describe("a strip of rows", () => {
  it.each(COMPUTED)("has the values and derivatives of operation %i, row by row, to the last bit", (operation) => {
    fc.assert(
      fc.property(rows, (own) => {
        const n = own.length;
        const two = TWO_OPERANDS.has(operation);
        const right = two ? n : -1;
        const values = Float64Array.from([...own.map(([x]) => x), ...own.map(([, y]) => y), ...own.map(() => 0)]);
        forwardStrip(operation, values, 0, right, 2 * n, n, 1.5);
        const adjoints = Float64Array.from([...own.map(() => 0.25), ...own.map(() => -2), ...own.map(([, , a]) => a)]);
        backwardStrip(operation, values, adjoints, 0, right, 2 * n, n, 1.5);
        own.forEach(([x, y, adjoint], i) => {
          const v = forward(operation, x, two ? y : 0, 1.5);
          expect(values[2 * n + i]).toBe(v);
          const [byA, byB] = [partialA(operation, x, two ? y : 0, 1.5, v), partialB(operation, x, y, v)];
          expect(adjoints[i]).toBe(0.25 + (adjoint === 0 ? 0 : adjoint * byA));
          expect(adjoints[n + i]).toBe(two && adjoint !== 0 ? -2 + adjoint * byB : -2);
        });
      }),
    );
  });

  it("leaves the operands of a row without weight alone, whatever they hold", () => {
    for (const operation of COMPUTED) {
      const right = TWO_OPERANDS.has(operation) ? 1 : -1;
      const adjoints = Float64Array.of(0, 0, 0);
      backwardStrip(operation, Float64Array.of(Number.NaN, Number.NaN, Number.NaN), adjoints, 0, right, 2, 1, 2);
      expect([...adjoints]).toEqual([0, 0, 0]);
    }
  });

  it("may have one node as both operands: x·x has the derivative 2x, x/x none", () => {
    const at = (operation: OperationCode) => {
      const adjoints = Float64Array.of(0, 1);
      backwardStrip(operation, Float64Array.of(3, forward(operation, 3, 3, 0)), adjoints, 0, 0, 1, 1, 0);
      return adjoints[0];
    };
    expect(at(Operation.multiply)).toBe(6);
    expect(at(Operation.divide)).toBe(0);
    expect(at(Operation.add)).toBe(2);
    expect(at(Operation.subtract)).toBe(0);
  });
});
