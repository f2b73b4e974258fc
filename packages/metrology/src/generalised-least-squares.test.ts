import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  generalisedLeastSquares,
  linearCombination,
  ordinaryLeastSquares,
  RankDeficientError,
} from "./generalised-least-squares.ts";
import { weightedMean } from "./weighted-mean.ts";

// GUM (JCGM 100:2008) H.3: thermometer readings t/°C and corrections b/°C.
const THERMOMETER: readonly [number, number][] = [
  [21.521, -0.171],
  [22.012, -0.169],
  [22.512, -0.166],
  [23.003, -0.159],
  [23.507, -0.164],
  [23.999, -0.165],
  [24.513, -0.156],
  [25.002, -0.157],
  [25.503, -0.159],
  [26.01, -0.161],
  [26.511, -0.16],
];

// Invented line with correlated observations. Values below: computed with numpy 2.4.6 and scipy 1.17.1, C.
const LINE = [0, 1, 2, 3, 4, 5].map((t) => [1, t]);
const LINE_Y = [1.1, 2.9, 5.2, 7.1, 8.8, 11.3];
const LINE_V = [0.04, 0.01, 0.09, 0.04, 0.01, 0.04].map((variance, i) =>
  LINE_Y.map((_, j) => 0.02 + (i === j ? variance : 0)),
);

const diagonal = (variances: readonly number[]): number[][] =>
  variances.map((variance, i) => variances.map((_, j) => (i === j ? variance : 0)));

describe("ordinary least squares", () => {
  const design = THERMOMETER.map(([t]) => [1, t - 20]);
  const fit = ordinaryLeastSquares(
    design,
    THERMOMETER.map(([, b]) => b),
  );

  it("FIT-2: the thermometer's calibration curve of GUM H.3 has the published coefficients", () => {
    // −0.1712 and 0.00218 (V2); further digits C.
    expect(fit.coefficients[0]).toBeCloseTo(-0.17120379, 8);
    expect(fit.coefficients[1]).toBeCloseTo(0.0021826977, 9);
  });

  it("FIT-2: their uncertainties, correlation and scatter are the published ones", () => {
    // 0.0029, 0.00067, −0.930 (V2); further digits and s C.
    const covariance = fit.covariance!;
    const u = [Math.sqrt(covariance[0]![0]!), Math.sqrt(covariance[1]![1]!)] as const;
    expect(u[0]).toBeCloseTo(0.002877598, 9);
    expect(u[1]).toBeCloseTo(0.0006679388, 10);
    expect(covariance[0]![1]! / (u[0] * u[1])).toBeCloseTo(-0.9304296, 7);
    expect(fit.residualDeviation).toBeCloseTo(0.00349756, 8);
    expect(fit.dof).toBe(9);
  });

  it("FIT-4: the correction predicted at 30 °C has the published uncertainty, correlation included", () => {
    // −0.1494 (0.0041) (V2); further digits C.
    const prediction = linearCombination(fit, [1, 10]);
    expect(prediction.value).toBeCloseTo(-0.1493768, 7);
    expect(prediction.u).toBeCloseTo(0.0041386, 7);
  });

  it("FIT-2: about another reference temperature the prediction stays the same", () => {
    const shifted = ordinaryLeastSquares(
      THERMOMETER.map(([t]) => [1, t - 24]),
      THERMOMETER.map(([, b]) => b),
    );
    const there = linearCombination(shifted, [1, 6]);
    const here = linearCombination(fit, [1, 10]);
    expect(there.value).toBeCloseTo(here.value, 14);
    expect(there.u).toBeCloseTo(here.u!, 14);
  });

  it("FIT-2: a polynomial of the fifth order over twenty-one integers comes back with all its ones", () => {
    // The generating formula of the NIST StRD linear set Wampler1 (from memory, M): y = 1 + x + … + x⁵, x = 0…20.
    const powers = Array.from({ length: 21 }, (_, x) => [1, x, x * x, x * x * x, x * x * x * x, x * x * x * x * x]);
    const ones = ordinaryLeastSquares(
      powers,
      powers.map((row) => row.reduce((sum, value) => sum + value, 0)),
    );
    for (const coefficient of ones.coefficients) expect(Math.abs(coefficient - 1)).toBeLessThan(1e-8);
  });

  it("FIT-2: with no degree of freedom left the uncertainty is unknown, not zero", () => {
    const exact = ordinaryLeastSquares(
      [
        [1, 0],
        [1, 1],
      ],
      [2, 5],
    );
    expect(exact.coefficients[1]).toBeCloseTo(3, 14);
    expect(exact.dof).toBe(0);
    expect(exact.covariance).toBeNull();
    expect(exact.residualDeviation).toBeNull();
    expect(linearCombination(exact, [1, 2]).u).toBeNull();
  });
});

describe("generalised least squares", () => {
  it("FIT-1: coefficients, covariance and chi-square are those of numpy's matrices", () => {
    const fit = generalisedLeastSquares(LINE, LINE_Y, LINE_V);
    expect(fit.coefficients[0]).toBeCloseTo(0.95311517, 8);
    expect(fit.coefficients[1]).toBeCloseTo(1.99741976, 8);
    expect(fit.covariance[0]![0]).toBeCloseTo(0.03175582, 8);
    expect(fit.covariance[0]![1]).toBeCloseTo(-0.0032725, 8);
    expect(fit.covariance[1]![1]).toBeCloseTo(0.00129641, 8);
    expect(fit.chiSquare).toBeCloseTo(7.373505349276275, 11);
    expect(fit.dof).toBe(4);
    expect(fit.p).toBeCloseTo(0.1174182742772902, 12);
    [0.14688483, -0.05053493, 0.25204531, 0.15462555, -0.14279421, 0.35978603].forEach((residual, i) => {
      expect(fit.residuals[i]!).toBeCloseTo(residual, 8);
    });
  });

  it("FIT-1: with one column of ones and independent observations it is the weighted mean", () => {
    const observations = fc.array(
      fc.tuple(fc.double({ min: -50, max: 50, noNaN: true }), fc.double({ min: 0.1, max: 5, noNaN: true })),
      { minLength: 2, maxLength: 8 },
    );
    fc.assert(
      fc.property(observations, (list) => {
        const values = list.map(([value]) => value);
        const us = list.map(([, u]) => u);
        const mean = weightedMean(values, us);
        const fit = generalisedLeastSquares(
          values.map(() => [1]),
          values,
          diagonal(us.map((u) => u * u)),
        );
        expect(fit.coefficients[0]).toBeCloseTo(mean.mean, 11);
        expect(Math.sqrt(fit.covariance[0]![0]!)).toBeCloseTo(mean.u, 12);
        expect(Math.abs(fit.chiSquare - mean.chiSquare)).toBeLessThan(1e-10 * (1 + mean.chiSquare));
      }),
    );
  });

  it("FIT-1: equal independent uncertainties give the coefficients of ordinary least squares", () => {
    const design = THERMOMETER.map(([t]) => [1, t - 20]);
    const corrections = THERMOMETER.map(([, b]) => b);
    const ordinary = ordinaryLeastSquares(design, corrections);
    const s = ordinary.residualDeviation!;
    const general = generalisedLeastSquares(design, corrections, diagonal(corrections.map(() => s * s)));
    expect(general.coefficients[1]).toBeCloseTo(ordinary.coefficients[1]!, 14);
    expect(general.covariance[1]![1]! / ordinary.covariance![1]![1]!).toBeCloseTo(1, 12);
    expect(general.chiSquare).toBeCloseTo(9, 11);
  });

  it("FIT-1: a variance common to all observations goes to the intercept alone", () => {
    const independent = LINE_V.map((row, i) => row.map((value, j) => (i === j ? value - 0.02 : 0)));
    const without = generalisedLeastSquares(LINE, LINE_Y, independent);
    const common = generalisedLeastSquares(LINE, LINE_Y, LINE_V);
    expect(common.coefficients[1]).toBeCloseTo(without.coefficients[1]!, 12);
    expect(common.covariance[1]![1]).toBeCloseTo(without.covariance[1]![1]!, 14);
    expect(common.covariance[0]![0]).toBeCloseTo(without.covariance[0]![0]! + 0.02, 14);
  });

  it("FIT-1: as many coefficients as observations pass through them, with nothing to test", () => {
    const fit = generalisedLeastSquares(
      [
        [1, 0],
        [1, 1],
      ],
      [2, 5],
      diagonal([0.01, 0.04]),
    );
    expect(fit.p).toBeNull();
    expect(fit.dof).toBe(0);
    expect(fit.covariance[1]![1]).toBeCloseTo(0.05, 14);
  });

  it("FIT-3: a design that does not determine its coefficients is refused by the column", () => {
    const dependent = LINE.map(([one, t]) => [one!, t!, 3 * one! - 2 * t!]);
    expect(() => generalisedLeastSquares(dependent, LINE_Y, LINE_V)).toThrow(RankDeficientError);
    expect(() => ordinaryLeastSquares(dependent, LINE_Y)).toThrow("column 3 of the design is zero or a combination");
    try {
      ordinaryLeastSquares(dependent, LINE_Y);
    } catch (error) {
      expect((error as RankDeficientError).column).toBe(2);
      expect((error as RankDeficientError).name).toBe("RankDeficientError");
    }
    expect(() => ordinaryLeastSquares([[1, 0]], [1])).toThrow("1 observations cannot determine 2 coefficients");
  });

  it("FIT-3: a covariance that cannot be one is refused by the observation", () => {
    const twins = diagonal([1, 1, 1, 1, 1, 1]);
    twins[4]![3] = 1;
    twins[3]![4] = 1;
    expect(() => generalisedLeastSquares(LINE, LINE_Y, twins)).toThrow("not positive definite: observation 5");
    const lopsided = diagonal([1, 1, 1, 1, 1, 1]);
    lopsided[0]![1] = 0.5;
    expect(() => generalisedLeastSquares(LINE, LINE_Y, lopsided)).toThrow(
      "not symmetric: (1, 2) is 0.5, its mirror 0.",
    );
    expect(() => generalisedLeastSquares(LINE, LINE_Y, diagonal([1, 1]))).toThrow("6 × 6 entries");
    expect(() => generalisedLeastSquares(LINE, LINE_Y, diagonal([1, 1, 0, 1, 1, 1]))).toThrow("observation 3");
    expect(() => generalisedLeastSquares(LINE, LINE_Y, diagonal([1, 1, Number.NaN, 1, 1, 1]))).toThrow(
      "Covariance (3, 3) is NaN",
    );
  });

  it("FIT-3: an observation that follows from the others is found whatever rounding leaves of its variance", () => {
    // Three observations moved by two sources: the third has no error of its own.
    const part = fc.double({ min: 0.1, max: 1, noNaN: true });
    const rows = [0, 1, 2].map((t) => [1, t]);
    fc.assert(
      fc.property(fc.tuple(part, part), fc.tuple(part, part), (a, b) => {
        // Sources that are alike make the second observation follow from the first already.
        const moved = [a, b, [a[0] + b[0], a[1] + b[1]]];
        const singular = moved.map((row) => moved.map((other) => row[0]! * other[0]! + row[1]! * other[1]!));
        expect(() => generalisedLeastSquares(rows, [1, 2, 3], singular)).toThrow("not positive definite");
      }),
      { numRuns: 300 },
    );
  });

  it("FIT-3: mirror images that differ by rounding are no asymmetry", () => {
    const rounded = LINE_V.map((row) => [...row]);
    rounded[0]![1] = 0.02 * (1 + Number.EPSILON);
    expect(generalisedLeastSquares(LINE, LINE_Y, rounded).chiSquare).toBeCloseTo(7.373505349276275, 11);
  });

  it("FIT-3: shapes that do not fit and numbers that are not finite are refused by place", () => {
    expect(() => ordinaryLeastSquares([], [])).toThrow("at least one observation");
    expect(() => ordinaryLeastSquares(LINE, [1, 2])).toThrow("6 rows for 2 observations");
    expect(() => ordinaryLeastSquares([[1, 2], [1], [1, 4]], [1, 2, 3])).toThrow("Row 2 of the design has 1 entries");
    expect(() =>
      ordinaryLeastSquares(
        [
          [1, 2],
          [1, Number.NaN],
        ],
        [1, 2],
      ),
    ).toThrow("Row 2 of the design");
    expect(() => ordinaryLeastSquares([[1], [1]], [1, Infinity])).toThrow("Observation 2 is Infinity");
    expect(() => linearCombination({ coefficients: [1, 2], covariance: null }, [1])).toThrow("1 factors for 2");
  });
});
