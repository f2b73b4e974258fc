import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { generalisedLeastSquares, ordinaryLeastSquares } from "./generalised-least-squares.ts";
import { type YorkPoints, yorkLine } from "./york-line.ts";

// Pearson's data with York's weights (York 1966; V2).
const X = [0, 0.9, 1.8, 2.6, 3.3, 4.4, 5.2, 6.1, 6.5, 7.4];
const Y = [5.9, 5.4, 4.4, 4.6, 3.5, 3.7, 2.8, 2.8, 2.4, 1.5];
const WEIGHTS_X = [1000, 1000, 500, 800, 200, 80, 60, 20, 1.8, 1];
const WEIGHTS_Y = [1, 1.8, 4, 8, 20, 20, 70, 70, 100, 500];
const fromWeights = (weights: readonly number[]): number[] => weights.map((weight) => 1 / Math.sqrt(weight));
const PEARSON_YORK: YorkPoints = { x: X, y: Y, ux: fromWeights(WEIGHTS_X), uy: fromWeights(WEIGHTS_Y) };

/** Pearson's data with one uncertainty in x and √λ times as much in y. */
const deming = (lambda: number): YorkPoints => ({
  x: X,
  y: Y,
  ux: X.map(() => 0.1),
  uy: X.map(() => 0.1 * Math.sqrt(lambda)),
});

// Invented points with correlated errors.
const CORRELATED: YorkPoints = {
  x: [1.0, 2.1, 2.9, 4.2, 5.0],
  y: [2.2, 3.9, 6.3, 8.0, 10.4],
  ux: [0.1, 0.2, 0.05, 0.15, 0.1],
  uy: [0.2, 0.1, 0.3, 0.2, 0.15],
  correlation: [0.5, -0.3, 0, 0.8, -0.6],
};

/** χ² of a line at its best intercept, straight from the definition: the independent route to York's slope. */
function profile(points: YorkPoints, slope: number): number {
  const weights = points.x.map((_, i) => {
    const { ux, uy, correlation } = points;
    const covariance = (correlation?.[i] ?? 0) * ux[i]! * uy[i]!;
    return 1 / (uy[i]! * uy[i]! + slope * slope * ux[i]! * ux[i]! - 2 * slope * covariance);
  });
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  const rest = points.y.map((y, i) => y - slope * points.x[i]!);
  const intercept = rest.reduce((sum, value, i) => sum + weights[i]! * value, 0) / total;
  return rest.reduce((sum, value, i) => sum + weights[i]! * (value - intercept) * (value - intercept), 0);
}

describe("York's line", () => {
  it("FIT-5: Pearson's data with York's weights give the published line to all printed digits", () => {
    // checks: V2 and C.
    const line = yorkLine(PEARSON_YORK);
    expect(line.intercept).toBeCloseTo(5.479910224033, 11);
    expect(line.slope).toBeCloseTo(-0.480533407446, 12);
    expect(line.uIntercept).toBeCloseTo(0.2949707, 7);
    expect(line.uSlope).toBeCloseTo(0.057985, 7);
    expect(line.stopped).toBe("converged");
  });

  it("FIT-5: its chi-square, degrees of freedom and p are the published ones", () => {
    // checks: V2 and C.
    const line = yorkLine(PEARSON_YORK);
    expect(line.chiSquare).toBeCloseTo(11.866353, 6);
    expect(line.dof).toBe(8);
    expect(line.chiSquare / line.dof).toBeCloseTo(1.483294, 6);
    expect(line.p).toBeCloseTo(0.157267, 6);
  });

  it("FIT-5: correlated errors of a point enter as in the unified equations", () => {
    // Computed with mpmath by minimising the points' quadratic forms with their 2 × 2 covariances, C.
    const line = yorkLine(CORRELATED);
    expect(line.intercept).toBeCloseTo(0.197517966382501, 12);
    expect(line.slope).toBeCloseTo(1.93471069056867, 13);
    expect(line.uIntercept).toBeCloseTo(0.241748258192, 11);
    expect(line.uSlope).toBeCloseTo(0.0728024212827, 12);
    expect(line.covariance).toBeCloseTo(-0.0157003855046, 12);
    expect(line.chiSquare).toBeCloseTo(9.549335240503, 11);
    expect(line.p).toBeCloseTo(0.02281226702394408, 12);
  });

  it("FIT-5: without correlation it is the same line as with correlations of zero", () => {
    expect(yorkLine({ ...PEARSON_YORK, correlation: X.map(() => 0) })).toEqual(yorkLine(PEARSON_YORK));
  });

  it.each([
    // λ = var εy/var εx; slope, intercept: checks, C (Pearson printed −0.546 and 5.7857 for λ = 1, V2).
    [1, -0.545561198, 5.784043775],
    [2, -0.542938958, 5.774026819],
    [0.5, -0.549370384, 5.798594867],
  ])("FIT-6: with constant uncertainties of ratio λ = %f it is Deming's line", (lambda, slope, intercept) => {
    const line = yorkLine(deming(lambda));
    expect(line.slope).toBeCloseTo(slope, 9);
    expect(line.intercept).toBeCloseTo(intercept, 9);
  });

  it("FIT-6: with no uncertainty in x it is least squares on y", () => {
    // Slope and intercept of ordinary least squares: checks, C.
    const line = yorkLine({ x: X, y: Y, ux: X.map(() => 0), uy: X.map(() => 0.3) });
    expect(line.slope).toBeCloseTo(-0.539577275, 9);
    expect(line.intercept).toBeCloseTo(5.76118519, 9);
    const ordinary = ordinaryLeastSquares(
      X.map((x) => [1, x]),
      Y,
    );
    expect(line.slope).toBeCloseTo(ordinary.coefficients[1]!, 13);
    expect(yorkLine(deming(1e12)).slope).toBeCloseTo(ordinary.coefficients[1]!, 9);
  });

  it("FIT-6: unequal uncertainties in y alone make it weighted least squares, covariance included", () => {
    const line = yorkLine({ x: X, y: Y, ux: X.map(() => 0), uy: PEARSON_YORK.uy });
    const weighted = generalisedLeastSquares(
      X.map((x) => [1, x]),
      Y,
      WEIGHTS_Y.map((weight, i) => WEIGHTS_Y.map((_, j) => (i === j ? 1 / weight : 0))),
    );
    expect(line.slope).toBeCloseTo(weighted.coefficients[1]!, 12);
    expect(line.uIntercept).toBeCloseTo(Math.sqrt(weighted.covariance[0]![0]!), 12);
    expect(line.uSlope).toBeCloseTo(Math.sqrt(weighted.covariance[1]![1]!), 12);
    expect(line.covariance).toBeCloseTo(weighted.covariance[0]![1]!, 12);
    expect(line.chiSquare).toBeCloseTo(weighted.chiSquare, 10);
  });

  it("FIT-6: with no uncertainty in y it is least squares on x", () => {
    const line = yorkLine({ x: X, y: Y, ux: X.map(() => 0.1), uy: X.map(() => 0) });
    const onX = ordinaryLeastSquares(
      Y.map((y) => [1, y]),
      X,
    );
    expect(line.slope).toBeCloseTo(1 / onX.coefficients[1]!, 12);
  });

  it("FIT-7: exchanging the axes inverts the slope and keeps chi-square", () => {
    const line = yorkLine(CORRELATED);
    const { x, y, ux, uy, correlation } = CORRELATED;
    const turned = yorkLine({ x: y, y: x, ux: uy, uy: ux, correlation: correlation! });
    expect(turned.slope * line.slope).toBeCloseTo(1, 12);
    expect(turned.intercept).toBeCloseTo(-line.intercept / line.slope, 12);
    expect(turned.chiSquare).toBeCloseTo(line.chiSquare, 11);
    expect(turned.uSlope).toBeCloseTo(line.uSlope / (line.slope * line.slope), 11);
  });

  it("FIT-7: a change of units and origin changes the line accordingly and nothing else", () => {
    const line = yorkLine(PEARSON_YORK);
    const moved = yorkLine({
      x: X.map((x) => 1000 * x + 5e6),
      y: Y.map((y) => y / 8 - 40),
      ux: PEARSON_YORK.ux.map((u) => 1000 * u),
      uy: PEARSON_YORK.uy.map((u) => u / 8),
    });
    expect(moved.slope * 8000).toBeCloseTo(line.slope, 9);
    expect(moved.uSlope * 8000).toBeCloseTo(line.uSlope, 9);
    expect(moved.chiSquare).toBeCloseTo(line.chiSquare, 6);
    expect(moved.intercept + moved.slope * 5e6 + 40).toBeCloseTo(line.intercept / 8, 8);
  });

  it("FIT-7: no slope nearby has a smaller chi-square", () => {
    const point = fc.record({
      // Within a scatter of one about y = 2 + 3x, uncertainties of the size of the scatter.
      ex: fc.double({ min: -1, max: 1, noNaN: true }),
      ey: fc.double({ min: -1, max: 1, noNaN: true }),
      ux: fc.double({ min: 0.05, max: 1, noNaN: true }),
      uy: fc.double({ min: 0.05, max: 1, noNaN: true }),
      // ±0.9: nearer to ±1 the two errors become one, and a line along them fits anything.
      correlation: fc.double({ min: -0.9, max: 0.9, noNaN: true }),
    });
    fc.assert(
      fc.property(fc.array(point, { minLength: 5, maxLength: 12 }), (list) => {
        const points: YorkPoints = {
          x: list.map(({ ex }, i) => 2 * i + ex),
          y: list.map(({ ey }, i) => 2 + 6 * i + ey),
          ux: list.map(({ ux }) => ux),
          uy: list.map(({ uy }) => uy),
          correlation: list.map(({ correlation }) => correlation),
        };
        const line = yorkLine(points);
        expect(line.stopped).toBe("converged");
        expect(line.iterations).toBeLessThan(20);
        expect(Math.abs(profile(points, line.slope) - line.chiSquare)).toBeLessThan(1e-9 * (1 + line.chiSquare));
        for (const distance of [-1, -0.01, 0.01, 1]) {
          expect(profile(points, line.slope + distance * line.uSlope)).toBeGreaterThan(line.chiSquare);
        }
      }),
      { numRuns: 200 },
    );
  });

  it("FIT-7: of several lines at which chi-square is stationary the lowest is found", () => {
    // Invented points that scatter as far as they spread. Repeating York's equations from the slope of least squares
    // ends at −1.5396 with χ² 99.7. Lowest: computed with scipy 1.17.1 by scanning all directions, C.
    const line = yorkLine({
      x: [3.6, 1.0, 8.9, 1.5],
      y: [7.3, 4.2, 5.0, 6.8],
      ux: [0.1, 0.6, 0.6, 0.5],
      uy: [0.1, 0.1, 0.6, 0.6],
    });
    expect(line.slope).toBeCloseTo(0.6449912790758, 8);
    expect(line.chiSquare).toBeCloseTo(74.26995911115, 9);
  });

  it("FIT-7: however the points scatter, equal uncertainties give Deming's line in closed form", () => {
    const place = fc.integer({ min: -100, max: 100 });
    const points = fc.array(fc.tuple(place, place), { minLength: 3, maxLength: 10 });
    const ratio = fc.double({ min: 0.1, max: 10, noNaN: true });
    fc.assert(
      fc.property(points, ratio, (list, root) => {
        const count = list.length;
        const meanX = list.reduce((sum, [x]) => sum + x, 0) / count;
        const meanY = list.reduce((sum, [, y]) => sum + y, 0) / count;
        const product = (pick: (x: number, y: number) => number): number =>
          list.reduce((sum, [x, y]) => sum + pick(x - meanX, y - meanY), 0);
        const xx = product((x) => x * x);
        const xy = product((x, y) => x * y);
        const yy = product((_, y) => y * y);
        // Round scatter has no direction, a vertical line no slope.
        const excess = yy - root * root * xx;
        fc.pre(Math.abs(xy) > 0.01 * Math.sqrt(xx * yy) && xx > 0);
        const slope = (excess + Math.sqrt(excess * excess + 4 * root * root * xy * xy)) / (2 * xy);
        const line = yorkLine({
          x: list.map(([x]) => x),
          y: list.map(([, y]) => y),
          ux: list.map(() => 1),
          uy: list.map(() => root),
        });
        expect(line.stopped).toBe("converged");
        // The closed form itself cancels where the line is nearly level.
        expect(Math.abs(line.slope / slope - 1)).toBeLessThan(1e-6);
      }),
      { numRuns: 300 },
    );
  });

  it("FIT-8: points exactly on a line give it back, and two points leave nothing to test", () => {
    const exact = yorkLine({ x: [1, 2, 4], y: [5, 7, 11], ux: [0.1, 0.2, 0.1], uy: [0.3, 0.1, 0.2] });
    expect(exact.slope).toBeCloseTo(2, 13);
    expect(exact.intercept).toBeCloseTo(3, 13);
    expect(exact.chiSquare).toBeCloseTo(0, 20);
    const two = yorkLine({ x: [1, 3], y: [1, 0], ux: [0.1, 0.1], uy: [0.1, 0.1] });
    expect(two.slope).toBeCloseTo(-0.5, 14);
    expect(two.p).toBeNull();
    expect(two.dof).toBe(0);
  });

  it("FIT-8: a level line converges although its slope is nothing to compare a change with", () => {
    const line = yorkLine({
      x: [1, 2, 3, 4],
      y: [5, 5, 5, 5],
      ux: [0.1, 0.1, 0.1, 0.1],
      uy: [0.1, 0.2, 0.1, 0.2],
    });
    expect(line.slope).toBeCloseTo(0, 14);
    expect(line.stopped).toBe("converged");
  });

  it("FIT-8: an iteration cut short says so", () => {
    const line = yorkLine(PEARSON_YORK, 2);
    expect(line.stopped).toBe("iteration limit");
    expect(line.iterations).toBe(2);
    expect(Math.abs(line.slope + 0.480533407446)).toBeGreaterThan(1e-9);
  });

  it("FIT-8: points that cannot be fitted are refused by their number", () => {
    const good = { x: [1, 2], y: [1, 2], ux: [0.1, 0.1], uy: [0.1, 0.1] };
    expect(() => yorkLine({ x: [1], y: [1], ux: [1], uy: [1] })).toThrow("at least two points, but 1 given");
    expect(() => yorkLine({ ...good, uy: [0.1] })).toThrow("2 x but 1 values of uy");
    expect(() => yorkLine({ ...good, y: [1, Number.NaN] })).toThrow("Point 2 is (2, NaN)");
    expect(() => yorkLine({ ...good, ux: [0, 0.1], uy: [0, 0.1] })).toThrow(
      "Point 1 has standard uncertainties 0 and 0",
    );
    expect(() => yorkLine({ ...good, ux: [-0.1, 0.1] })).toThrow("Point 1 has standard uncertainties -0.1");
    expect(() => yorkLine({ ...good, correlation: [0, 1.5] })).toThrow("Point 2 has correlation 1.5");
    expect(() => yorkLine({ ...good, x: [2, 2] })).toThrow("All x are equal");
    expect(() => yorkLine({ ...good, y: [1, 1], uy: [0, 0] })).toThrow("All y are equal and without uncertainty");
  });
});
