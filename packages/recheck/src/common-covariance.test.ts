import { describe, expect, it } from "vitest";
import { commonCovariances } from "./common-covariance.ts";

const set = (dof: number, variance: number, reader?: number) => ({
  products: [[dof * variance]],
  dof,
  ...(reader !== undefined && { reader: [[reader]] }),
});
const cells = (matrices: readonly (readonly (readonly number[])[])[]) => matrices.map((matrix) => matrix[0]![0]!);

describe("the covariance of one reading, condition by condition", () => {
  it("is common where the reader's noise is not known", () => {
    expect(cells(commonCovariances([set(4, 1), set(2, 4)], new Set(), 1))).toEqual([2, 2]);
    expect(cells(commonCovariances([set(4, 1), set(2, 4), set(4, 99)], new Set([2]), 1))).toEqual([2, 2, 2]);
    expect(cells(commonCovariances([set(0, 0), set(0, 0)], new Set(), 1))).toEqual([0, 0]);
  });

  it("departs from the common one as the reader's noise departs from its mean", () => {
    // Three rounds of P + A − Ā with weights 4/(V/P)² from 4 and 4, in Python: C.
    const [first, second] = cells(commonCovariances([set(4, 1, 0.5), set(4, 3, 1.5)], new Set(), 1));
    expect(first).toBeCloseTo(1.234267056, 9);
    expect(second).toBeCloseTo(2.234267056, 9);
  });

  it("takes no more noise of the reader than the repeats show", () => {
    const [low, high] = cells(commonCovariances([set(4, 1, 5), set(4, 1, 15)], new Set(), 1));
    expect(low).toBeCloseTo(0.853175009986, 9);
    expect(high).toBeCloseTo(3.559525029957, 9);
    expect(cells(commonCovariances([set(4, 0, 5), set(4, 0, 15)], new Set(), 1))).toEqual([0, 0]);
  });
});
