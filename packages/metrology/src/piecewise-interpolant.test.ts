import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { ChebyshevEvaluator } from "./chebyshev.ts";
import { type Piece, piecewiseInterpolant, type Side, shareWithout, type Target } from "./piecewise-interpolant.ts";

type Func = (...point: number[]) => number;

/** A function to be interpolated, with trials spread evenly over −1…1, and a count of what was asked for. */
function targetOf(f: Func, changes: Partial<Target> = {}): Target & { readonly asked: number } {
  let asked = 0;
  return {
    values: (points) => {
      asked += points.length;
      return points.map((point) => f(...point));
    },
    share: (box) => box.reduce((product, { low, high }) => (product * (high - low)) / 2, 1),
    tolerance: 1e-7,
    spare: 1e-3,
    budget: 50_000,
    ...changes,
    get asked() {
      return asked;
    },
  };
}

const square = (variables: number): Side[] => Array.from({ length: variables }, () => ({ low: -1, high: 1 }));

/** undefined where there is no interpolant. */
function evaluate(piece: Piece, point: readonly number[]): number | undefined {
  if (piece.kind === "none") return undefined;
  if (piece.kind === "cut") return evaluate(point[piece.variable]! <= piece.at ? piece.below : piece.above, point);
  const evaluator = new ChebyshevEvaluator(piece.sum);
  piece.box.forEach(({ low, high }, variable) => {
    evaluator.place(variable, (2 * point[variable]! - low - high) / (high - low));
  });
  return evaluator.value();
}

function piecesOf(piece: Piece): number {
  if (piece.kind === "cut") return piecesOf(piece.below) + piecesOf(piece.above);
  return piece.kind === "sum" ? 1 : 0;
}

/** The largest deviation at points of a fine lattice, where there is an interpolant. */
function worst(piece: Piece, f: Func, variables: number): number {
  const steps = variables === 1 ? 2001 : variables === 2 ? 61 : 17;
  const side = Array.from({ length: steps }, (_, i) => -1 + (2 * i) / (steps - 1));
  let points: number[][] = [[]];
  for (let v = 0; v < variables; v++) points = points.flatMap((point) => side.map((x) => [...point, x]));
  return points.reduce((most, point) => {
    const found = evaluate(piece, point);
    return found === undefined ? most : Math.max(most, Math.abs(found - f(...point)));
  }, 0);
}

describe("piecewise interpolants", () => {
  it.each([
    ["an exponential", 1, (x: number) => Math.exp(x)],
    ["a wave in two variables", 2, (x: number, y: number) => Math.sin(2 * x + y)],
    ["a product in three", 3, (x: number, y: number, z: number) => Math.exp(x * y - z / 2)],
  ] as [string, number, Func][])("MC-16: what is smooth has one piece, as good as asked: %s", (_, variables, f) => {
    for (const tolerance of [1e-3, 1e-6]) {
      const piece = piecewiseInterpolant(targetOf(f, { tolerance }), square(variables));
      expect(piecesOf(piece)).toBe(1);
      expect(shareWithout(piece)).toBe(0);
      expect(worst(piece, f, variables)).toBeLessThan(tolerance);
    }
  });

  it("MC-16: terms are as few as the tolerance allows", () => {
    const terms = (tolerance: number) => {
      const piece = piecewiseInterpolant(targetOf(Math.exp, { tolerance }), square(1));
      return piece.kind === "sum" ? piece.sum.coefficients.length : 0;
    };
    expect(terms(10)).toBe(1);
    expect(terms(1e-2)).toBeLessThan(terms(1e-6));
    expect(terms(1e-6)).toBeLessThan(terms(1e-12));
  });

  it.each([
    ["a kink", 1, (x: number) => Math.abs(x - 0.3)],
    ["a kink across two variables", 2, (x: number, y: number) => Math.abs(x + 0.5 * y - 0.3)],
    ["a steep front", 2, (x: number, y: number) => Math.tanh(20 * (x - 0.2)) * (1 + y)],
    ["a steep beginning", 1, (x: number) => Math.sqrt(x + 1)],
  ] as [string, number, Func][])("MC-16: the box is cut where it takes more: %s", (_, variables, f) => {
    const piece = piecewiseInterpolant(targetOf(f, { tolerance: 1e-4, budget: 400_000 }), square(variables));
    expect(piecesOf(piece)).toBeGreaterThan(1);
    // ten times as much is allowed at corners
    expect(worst(piece, f, variables)).toBeLessThan(1.1e-3);
    expect(shareWithout(piece)).toBeLessThan(0.2);
  });

  it("MC-16: where there is no value there is no interpolant, and beside it there is", () => {
    const f = (x: number, y: number) => Math.sqrt(x - 0.3 * y + 0.4);
    const piece = piecewiseInterpolant(targetOf(f, { tolerance: 1e-4 }), square(2));
    expect(evaluate(piece, [-0.8, 0.5])).toBeUndefined();
    expect(evaluate(piece, [0.5, 0.5])).toBeCloseTo(f(0.5, 0.5), 4);
    // three tenths have no value
    expect(shareWithout(piece)).toBeGreaterThan(0.3);
    expect(shareWithout(piece)).toBeLessThan(0.4);
  });

  it("MC-16: nothing anywhere, and nothing known: no pieces", () => {
    const piece = piecewiseInterpolant(
      targetOf(() => Number.NaN),
      square(2),
    );
    expect(piece).toEqual({ kind: "none", share: 1 });
  });

  it("MC-16: boxes with few trials are left, and those with most come first when the budget is short", () => {
    // nearly all trials above 0.5, where a kink is at −0.5 and another at 0.75
    const f = (x: number) => Math.abs(x + 0.5) + Math.abs(x - 0.75);
    const share = (box: readonly Side[]) => {
      const { low, high } = box[0]!;
      return 0.99 * Math.max(0, Math.min(1, 2 * high - 1) - Math.max(0, 2 * low - 1)) + (0.01 * (high - low)) / 2;
    };
    const wide = targetOf(f, { share, spare: 0.02 });
    expect(shareWithout(piecewiseInterpolant(wide, square(1)))).toBeGreaterThan(0.005);
    expect(evaluate(piecewiseInterpolant(wide, square(1)), [-0.45])).toBeUndefined();
    const short = targetOf(f, { share, budget: 900 });
    const piece = piecewiseInterpolant(short, square(1));
    expect(short.asked).toBeLessThanOrEqual(900);
    expect(shareWithout(piece)).toBeLessThan(0.3);
    expect(evaluate(piece, [0.9])).toBeCloseTo(f(0.9), 6);
  });

  it("MC-16: the shares of the pieces and of what has none add up to one", () => {
    fc.assert(
      fc.property(fc.double({ min: -1, max: 1, noNaN: true }), fc.double({ min: -1, max: 1, noNaN: true }), (a, b) => {
        const f = (x: number, y: number) => Math.abs(x - a) + (y > b ? 1 : 0);
        const target = targetOf(f, { tolerance: 1e-3, spare: 0.01 });
        const piece = piecewiseInterpolant(target, square(2));
        const sums = (own: Piece): number =>
          own.kind === "cut" ? sums(own.below) + sums(own.above) : own.kind === "sum" ? target.share(own.box) : 0;
        expect(sums(piece) + shareWithout(piece)).toBeCloseTo(1, 12);
        expect(worst(piece, f, 2)).toBeLessThan(2e-2);
      }),
      { numRuns: 20 },
    );
  });
});
