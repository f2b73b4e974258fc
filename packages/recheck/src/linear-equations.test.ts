import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { dot, quadratic, solve } from "./linear-equations.ts";

describe("linear equations", () => {
  it("are solved by hand's example, rows in any order", () => {
    expect(
      solve(
        [
          [0, 2, 1],
          [1, 1, 1],
          [2, 0, -1],
        ],
        [7, 6, -1],
      ),
    ).toEqual([1, 2, 3]);
  });

  it("are solved on whatever scale each of them stands", () => {
    const number = fc.integer({ min: -50, max: 50 });
    fc.assert(
      fc.property(fc.array(number, { minLength: 3, maxLength: 3 }), fc.integer({ min: -8, max: 8 }), (x, power) => {
        const matrix = [
          [9, 1, 2],
          [1, -7, 3],
          [2, 1, 8],
        ].map((row, i) => row.map((cell) => cell * (i === 0 ? 10 ** power : 1)));
        const found = solve(
          matrix,
          matrix.map((row) => dot(row, x)),
        );
        for (const [i, value] of found.entries()) expect(value).toBeCloseTo(x[i]!, 10);
      }),
    );
  });

  it("are refused where they do not determine the unknowns", () => {
    const twice = [
      [1, 2],
      [2, 4],
    ];
    expect(() => solve(twice, [1, 2])).toThrow("do not determine");
    expect(() => solve([[0]], [1])).toThrow("one of them is empty");
  });
});

describe("sums of products", () => {
  it("are those of rows and columns", () => {
    expect(dot([1, 2, 3], [4, 5, 6])).toBe(32);
    expect(
      quadratic(
        [
          [2, 1],
          [1, 3],
        ],
        [1, -2],
      ),
    ).toBe(2 - 2 - 2 + 12);
  });
});
