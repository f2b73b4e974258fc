import fc from "fast-check";
import { expect, test } from "vitest";
import { gaussLegendre, integral } from "./quadrature.ts";

test("the rules of two and three points are those of the textbook", () => {
  const two = gaussLegendre(2);
  expect(two.nodes[1]).toBeCloseTo(1 / Math.sqrt(3), 15);
  expect(two.weights).toEqual([expect.closeTo(1, 14), expect.closeTo(1, 14)]);
  const three = gaussLegendre(3);
  expect(three.nodes).toEqual([
    expect.closeTo(-Math.sqrt(0.6), 15),
    expect.closeTo(0, 15),
    expect.closeTo(Math.sqrt(0.6), 15),
  ]);
  expect(three.weights).toEqual([expect.closeTo(5 / 9, 14), expect.closeTo(8 / 9, 14), expect.closeTo(5 / 9, 14)]);
});

test("a rule of n points is exact for every power up to 2n − 1, and not beyond", () => {
  for (const points of [2, 6, 8, 16]) {
    const { nodes, weights } = gaussLegendre(points);
    const sum = (power: number) => nodes.reduce((total, x, i) => total + weights[i]! * x ** power, 0);
    for (let power = 0; power < 2 * points; power++)
      expect(sum(power)).toBeCloseTo(power % 2 === 0 ? 2 / (power + 1) : 0, 13);
    expect(Math.abs(sum(2 * points) - 2 / (2 * points + 1))).toBeGreaterThan(1e-16);
  }
});

test("an integral in panels agrees with the antiderivative", () => {
  fc.assert(
    fc.property(
      fc.double({ min: -3, max: 3, noNaN: true }),
      fc.double({ min: 0.01, max: 20, noNaN: true }),
      (from, length) => {
        const value = integral((x) => Math.exp(-x), from, from + length, 2);
        expect(value / (Math.exp(-from) - Math.exp(-from - length))).toBeCloseTo(1, 12);
      },
    ),
  );
});

test("nothing lies between an end and itself, or before it", () => {
  const one = () => 1;
  expect(integral(one, 2, 2, 1)).toBe(0);
  expect(integral(one, 2, 1, 1)).toBe(0);
  expect(integral(one, 0, 7, 2)).toBeCloseTo(7, 13);
});
