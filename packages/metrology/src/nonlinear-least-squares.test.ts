import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { generalisedLeastSquares, ordinaryLeastSquares } from "./generalised-least-squares.ts";
import { type NonlinearFit, type NonlinearProblem, nonlinearLeastSquares } from "./nonlinear-least-squares.ts";
import { exp, ln, pow } from "./special.ts";

/** A problem of the NIST Statistical Reference Datasets with its certified values. */
interface Certified {
  readonly name: string;
  readonly x: readonly number[];
  readonly y: readonly number[];
  readonly value: (b: readonly number[], x: number) => number;
  readonly gradient: (b: readonly number[], x: number) => number[];
  readonly starts: readonly (readonly number[])[];
  readonly parameters: readonly number[];
  readonly deviations: readonly number[];
  readonly residualSumOfSquares: number;
}

// Data, starts and certified values of all five: from NIST StRD, stored copies seen, V.
const MISRA1A: Certified = {
  name: "Misra1a",
  x: [77.6, 114.9, 141.1, 190.8, 239.9, 289.0, 332.8, 378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760.0],
  y: [10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82, 50.76, 55.05, 61.01, 66.4, 75.47, 81.78],
  value: ([b1, b2], x) => b1! * (1 - exp(-b2! * x)),
  gradient: ([b1, b2], x) => [1 - exp(-b2! * x), b1! * x * exp(-b2! * x)],
  starts: [
    [500, 0.0001],
    [250, 0.0005],
  ],
  parameters: [238.94212918, 5.5015643181e-4],
  deviations: [2.7070075241, 7.2668688436e-6],
  residualSumOfSquares: 0.12455138894,
};

const MGH09: Certified = {
  name: "MGH09",
  x: [4, 2, 1, 0.5, 0.25, 0.167, 0.125, 0.1, 0.0833, 0.0714, 0.0625],
  y: [0.1957, 0.1947, 0.1735, 0.16, 0.0844, 0.0627, 0.0456, 0.0342, 0.0323, 0.0235, 0.0246],
  value: ([b1, b2, b3, b4], x) => (b1! * (x * x + x * b2!)) / (x * x + x * b3! + b4!),
  gradient: ([b1, b2, b3, b4], x) => {
    const upper = x * x + x * b2!;
    const lower = x * x + x * b3! + b4!;
    const ratio = upper / lower;
    return [ratio, (b1! * x) / lower, (-b1! * ratio * x) / lower, (-b1! * ratio) / lower];
  },
  starts: [
    [25, 39, 41.5, 39],
    [0.25, 0.39, 0.415, 0.39],
  ],
  parameters: [0.19280693458, 0.19128232873, 0.12305650693, 0.13606233068],
  deviations: [1.1435312227e-2, 0.19633220911, 8.0842031232e-2, 9.0025542308e-2],
  residualSumOfSquares: 3.0750560385e-4,
};

const THURBER: Certified = {
  name: "Thurber",
  x: [
    -3.067, -2.981, -2.921, -2.912, -2.84, -2.797, -2.702, -2.699, -2.633, -2.481, -2.363, -2.322, -1.501, -1.46,
    -1.274, -1.212, -1.1, -1.046, -0.915, -0.714, -0.566, -0.545, -0.4, -0.309, -0.109, -0.103, 0.01, 0.119, 0.377,
    0.79, 0.963, 1.006, 1.115, 1.572, 1.841, 2.047, 2.2,
  ],
  y: [
    80.574, 84.248, 87.264, 87.195, 89.076, 89.608, 89.868, 90.101, 92.405, 95.854, 100.696, 101.06, 401.672, 390.724,
    567.534, 635.316, 733.054, 759.087, 894.206, 990.785, 1090.109, 1080.914, 1122.643, 1178.351, 1260.531, 1273.514,
    1288.339, 1327.543, 1353.863, 1414.509, 1425.208, 1421.384, 1442.962, 1464.35, 1468.705, 1447.894, 1457.628,
  ],
  value: ([b1, b2, b3, b4, b5, b6, b7], x) =>
    (b1! + x * (b2! + x * (b3! + x * b4!))) / (1 + x * (b5! + x * (b6! + x * b7!))),
  gradient: ([b1, b2, b3, b4, b5, b6, b7], x) => {
    const lower = 1 + x * (b5! + x * (b6! + x * b7!));
    const ratio = (b1! + x * (b2! + x * (b3! + x * b4!))) / lower;
    const powers = [1, x, x * x, x * x * x];
    return [...powers.map((power) => power / lower), ...powers.slice(1).map((power) => (-ratio * power) / lower)];
  },
  starts: [
    [1000, 1000, 400, 40, 0.7, 0.3, 0.03],
    [1300, 1500, 500, 75, 1, 0.4, 0.05],
  ],
  parameters: [1288.13968, 1491.0792535, 583.23836877, 75.416644291, 0.96629502864, 0.39797285797, 0.049727297349],
  deviations: [
    4.6647963344, 39.571156086, 28.698696102, 5.567537027, 3.1333340687e-2, 1.4984928198e-2, 6.5842344623e-3,
  ],
  residualSumOfSquares: 5642.7082397,
};

const ECKERLE4: Certified = {
  name: "Eckerle4",
  x: [
    400, 405, 410, 415, 420, 425, 430, 435, 436.5, 438, 439.5, 441, 442.5, 444, 445.5, 447, 448.5, 450, 451.5, 453,
    454.5, 456, 457.5, 459, 460.5, 462, 463.5, 465, 470, 475, 480, 485, 490, 495, 500,
  ],
  y: [
    0.0001575, 0.0001699, 0.000235, 0.0003102, 0.0004917, 0.000871, 0.0017418, 0.00464, 0.0065895, 0.0097302, 0.0149002,
    0.023731, 0.0401683, 0.0712559, 0.1264458, 0.2073413, 0.2902366, 0.3445623, 0.3698049, 0.3668534, 0.3106727,
    0.2078154, 0.1164354, 0.0616764, 0.03372, 0.0194023, 0.0117831, 0.0074357, 0.0022732, 0.00088, 0.0004579, 0.0002345,
    0.0001586, 0.0001143, 0.000071,
  ],
  value: ([b1, b2, b3], x) => {
    const z = (x - b3!) / b2!;
    return (b1! / b2!) * exp(-0.5 * z * z);
  },
  gradient: ([b1, b2, b3], x) => {
    const z = (x - b3!) / b2!;
    const peak = exp(-0.5 * z * z) / b2!;
    return [peak, (b1! / b2!) * peak * (z * z - 1), (b1! / b2!) * peak * z];
  },
  starts: [
    [1, 10, 500],
    [1.5, 5, 450],
  ],
  parameters: [1.5543827178, 4.0888321754, 451.54121844],
  deviations: [1.5408051163e-2, 4.6803020753e-2, 4.6800518816e-2],
  residualSumOfSquares: 1.4635887487e-3,
};

const RAT43: Certified = {
  name: "Rat43",
  x: [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15],
  y: [16.08, 33.83, 65.8, 97.2, 191.55, 326.2, 386.87, 520.53, 590.03, 651.92, 724.93, 699.56, 689.96, 637.56, 717.41],
  value: ([b1, b2, b3, b4], x) => b1! / pow(1 + exp(b2! - b3! * x), 1 / b4!),
  gradient: ([b1, b2, b3, b4], x) => {
    const growth = exp(b2! - b3! * x);
    const shape = pow(1 + growth, -1 / b4!);
    const along = (-b1! * shape * growth) / (b4! * (1 + growth));
    return [shape, along, -x * along, (b1! * shape * ln(1 + growth)) / (b4! * b4!)];
  },
  starts: [
    [100, 10, 1, 1],
    [700, 5, 0.75, 1.3],
  ],
  parameters: [699.6415127, 5.2771253025, 0.75962938329, 1.2792483859],
  deviations: [16.302297817, 2.0828735829, 0.19566123451, 0.68761936385],
  residualSumOfSquares: 8786.404908,
};

const problemOf = (
  set: Certified,
  start: readonly number[],
  more: Partial<NonlinearProblem> = {},
): NonlinearProblem => ({
  observations: set.y,
  values: (b) => set.x.map((x) => set.value(b, x)),
  jacobian: (b) => set.x.map((x) => set.gradient(b, x)),
  start,
  ...more,
});

const deviations = (fit: NonlinearFit): number[] => fit.covariance!.map((row, j) => Math.sqrt(row[j]!));

const CASES = [MISRA1A, MGH09, THURBER, ECKERLE4, RAT43].flatMap((set) =>
  set.starts.map((start, i) => [set.name, i + 1, set, start] as const),
);

/** A straight line as a nonlinear problem. */
const LINE_X = [0, 1, 2, 3, 4, 5];
const LINE_Y = [1.1, 2.9, 5.2, 7.1, 8.8, 11.3];
const line = (more: Partial<NonlinearProblem> = {}): NonlinearProblem => ({
  observations: LINE_Y,
  values: ([a, b]) => LINE_X.map((x) => a! + b! * x),
  jacobian: () => LINE_X.map((x) => [1, x]),
  start: [0, 0],
  ...more,
});

describe("nonlinear least squares on certified problems", () => {
  it.each(CASES)(
    "FIT-9: %s from its published start %i has the certified parameters and deviations",
    (_, __, set, start) => {
      const fit = nonlinearLeastSquares(problemOf(set, start));
      expect(fit.stopped).toEqual({ kind: "converged", criterion: "orthogonal residuals" });
      fit.parameters.forEach((value, j) => {
        // To a ten-millionth of the certified standard deviation.
        expect(Math.abs(value - set.parameters[j]!)).toBeLessThan(1e-7 * set.deviations[j]!);
      });
      deviations(fit).forEach((value, j) => {
        expect(Math.abs(value / set.deviations[j]! - 1)).toBeLessThan(1e-7);
      });
      expect(Math.abs(fit.chiSquare / set.residualSumOfSquares - 1)).toBeLessThan(1e-9);
      expect(fit.dof).toBe(set.x.length - start.length);
      expect(fit.iterations).toBeLessThan(150);
    },
  );

  it("FIT-9: the residuals are those of the parameters, in the observations' unit", () => {
    const fit = nonlinearLeastSquares(problemOf(MISRA1A, MISRA1A.starts[0]!));
    fit.residuals.forEach((residual, i) => {
      expect(residual).toBeCloseTo(MISRA1A.y[i]! - MISRA1A.value(fit.parameters, MISRA1A.x[i]!), 12);
    });
  });
});

describe("why the search stops", () => {
  it("FIT-10: an exact fit ends at rounding", () => {
    const fit = nonlinearLeastSquares(
      problemOf(MISRA1A, [250, 0.0005], { observations: MISRA1A.x.map((x) => MISRA1A.value([230, 6e-4], x)) }),
    );
    expect(fit.stopped).toEqual({ kind: "converged", criterion: "rounding" });
    expect(fit.parameters[0]).toBeCloseTo(230, 9);
    expect(fit.parameters[1]).toBeCloseTo(6e-4, 15);
  });

  it("FIT-10: as many parameters as observations end at rounding, their uncertainty unknown without one stated", () => {
    const two: NonlinearProblem = {
      observations: [2, 3],
      values: ([a, b]) => [a! * exp(b!), a! * exp(2 * b!)],
      jacobian: ([a, b]) => [
        [exp(b!), a! * exp(b!)],
        [exp(2 * b!), 2 * a! * exp(2 * b!)],
      ],
      start: [1, 0],
    };
    const fit = nonlinearLeastSquares(two);
    expect(fit.stopped).toEqual({ kind: "converged", criterion: "rounding" });
    expect(fit.parameters[0]).toBeCloseTo(4 / 3, 12);
    expect(fit.parameters[1]).toBeCloseTo(ln(1.5), 12);
    expect(fit.covariance).toBeNull();
    expect(nonlinearLeastSquares({ ...two, standardUncertainties: [0.1, 0.1] }).covariance).not.toBeNull();
  });

  it("FIT-10: a search cut short says so and gives no covariance", () => {
    const fit = nonlinearLeastSquares(problemOf(MGH09, MGH09.starts[0]!, { iterationLimit: 20 }));
    expect(fit.stopped).toEqual({ kind: "iteration limit" });
    expect(fit.iterations).toBe(20);
    expect(fit.covariance).toBeNull();
    expect(Math.abs(fit.parameters[0]! - MGH09.parameters[0]!)).toBeGreaterThan(1e-3);
  });

  it("FIT-10: a parameter that changes nothing is named, not inverted", () => {
    const fit = nonlinearLeastSquares(
      line({
        values: ([a, b]) => LINE_X.map((x) => a! + b! * x),
        jacobian: () => LINE_X.map((x) => [1, x, 0]),
        start: [0, 0, 7],
      }),
    );
    expect(fit.stopped).toEqual({ kind: "singular", parameter: 2 });
    expect(fit.covariance).toBeNull();
    expect(fit.parameters[2]).toBe(7);
    // Slope of ordinary least squares, by hand: 35.3/17.5.
    expect(fit.parameters[1]).toBeCloseTo(35.3 / 17.5, 6);
  });

  it("FIT-10: two parameters of which only the product is seen are named", () => {
    const fit = nonlinearLeastSquares(
      line({
        values: ([a, b]) => LINE_X.map((x) => a! * b! * x),
        jacobian: ([a, b]) => LINE_X.map((x) => [b! * x, a! * x]),
        start: [1, 1],
      }),
    );
    expect(fit.stopped).toEqual({ kind: "singular", parameter: 1 });
    // Σxy/Σx² of the data.
    expect(fit.parameters[0]! * fit.parameters[1]!).toBeCloseTo(126.3 / 55, 6);
  });

  it("FIT-10: derivatives of the wrong sign lead nowhere, and the search says so", () => {
    const fit = nonlinearLeastSquares(line({ jacobian: () => LINE_X.map((x) => [-1, -x]) }));
    expect(fit.stopped.kind).toBe("no progress");
    expect(fit.covariance).toBeNull();
  });

  it("FIT-10: a model whose own rounding hides the last digits converges with that said", () => {
    // Values rounded to 1e-9: χ² is a staircase whose steps are far above the rounding of doubles.
    const rough = (value: number): number => Math.round(value * 1e9) / 1e9;
    const fit = nonlinearLeastSquares(
      problemOf(MISRA1A, MISRA1A.starts[0]!, { values: (b) => MISRA1A.x.map((x) => rough(MISRA1A.value(b, x))) }),
    );
    expect(fit.stopped.kind).toBe("converged");
    expect(Math.abs(fit.parameters[0]! - MISRA1A.parameters[0]!)).toBeLessThan(1e-4 * MISRA1A.deviations[0]!);
  });

  it("FIT-10: steps to where the model is not finite are refused and shortened", () => {
    // ln b beyond b ≤ 0 is NaN; the first full step from here would go there.
    const fit = nonlinearLeastSquares({
      observations: [ln(0.1), ln(0.1) + 0.01, ln(0.1) - 0.01],
      values: ([b]) => [ln(b!), ln(b!), ln(b!)],
      jacobian: ([b]) => [[1 / b!], [1 / b!], [1 / b!]],
      start: [5],
    });
    expect(fit.stopped.kind).toBe("converged");
    expect(fit.parameters[0]).toBeCloseTo(0.1, 8);
  });

  it("FIT-10: a start where the model is not finite is refused with the start", () => {
    const bad = line({ values: () => LINE_X.map(() => Number.NaN), start: [3, 4] });
    expect(() => nonlinearLeastSquares(bad)).toThrow("not finite at the start (3, 4): begin elsewhere");
    const badSlope = line({ jacobian: () => LINE_X.map(() => [1, Infinity]) });
    expect(() => nonlinearLeastSquares(badSlope)).toThrow("not finite at the start");
  });
});

describe("independence of units", () => {
  it("FIT-11: parameters in other units take the same path to the same fit", () => {
    // Powers of two scale exactly, so the path must agree to the last bit.
    const unit = fc.tuple(fc.integer({ min: -30, max: 30 }), fc.integer({ min: -30, max: 30 }));
    const power = (n: number): number => (n < 0 ? 1 / (1 << -n) : 1 << n);
    const plain = nonlinearLeastSquares(problemOf(MISRA1A, MISRA1A.starts[0]!));
    fc.assert(
      fc.property(unit, ([m, n]) => {
        const [p, q] = [power(m), power(n)];
        const set: Certified = {
          ...MISRA1A,
          value: ([b1, b2], x) => MISRA1A.value([b1! / p, b2! / q], x),
          gradient: ([b1, b2], x) => {
            const [first, second] = MISRA1A.gradient([b1! / p, b2! / q], x);
            return [first! / p, second! / q];
          },
        };
        const fit = nonlinearLeastSquares(problemOf(set, [500 * p, 0.0001 * q]));
        expect(fit.iterations).toBe(plain.iterations);
        expect(fit.parameters[0]! / p).toBe(plain.parameters[0]);
        expect(fit.parameters[1]! / q).toBe(plain.parameters[1]);
      }),
      { numRuns: 30 },
    );
  });

  it("FIT-11: observations in another unit give the same parameters where those carry none", () => {
    const thousandth = nonlinearLeastSquares(
      line({
        observations: LINE_Y.map((y) => y / 1024),
        values: ([a, b]) => LINE_X.map((x) => (a! + b! * x) / 1024),
        jacobian: () => LINE_X.map((x) => [1 / 1024, x / 1024]),
      }),
    );
    const plain = nonlinearLeastSquares(line());
    expect(thousandth.parameters).toEqual(plain.parameters);
    expect(thousandth.covariance![1]![1]).toBeCloseTo(plain.covariance![1]![1]!, 15);
  });
});

describe("covariance", () => {
  it("FIT-12: without stated uncertainties a linear model has the covariance of ordinary least squares", () => {
    const fit = nonlinearLeastSquares(line());
    const ordinary = ordinaryLeastSquares(
      LINE_X.map((x) => [1, x]),
      LINE_Y,
    );
    fit.parameters.forEach((value, j) => {
      expect(value).toBeCloseTo(ordinary.coefficients[j]!, 8);
      fit.covariance![j]!.forEach((entry, k) => {
        expect(entry).toBeCloseTo(ordinary.covariance![j]![k]!, 10);
      });
    });
  });

  it("FIT-12: with stated uncertainties it has that of generalised least squares, whatever the residuals", () => {
    const standardUncertainties = [0.2, 0.1, 0.3, 0.2, 0.1, 0.2];
    const fit = nonlinearLeastSquares(line({ standardUncertainties }));
    const general = generalisedLeastSquares(
      LINE_X.map((x) => [1, x]),
      LINE_Y,
      standardUncertainties.map((u, i) => standardUncertainties.map((_, j) => (i === j ? u * u : 0))),
    );
    expect(fit.chiSquare).toBeCloseTo(general.chiSquare, 10);
    fit.parameters.forEach((value, j) => {
      expect(value).toBeCloseTo(general.coefficients[j]!, 8);
      fit.covariance![j]!.forEach((entry, k) => {
        expect(entry).toBeCloseTo(general.covariance[j]![k]!, 12);
      });
    });
  });

  it("FIT-12: halving all stated uncertainties quarters the covariance and moves nothing", () => {
    const fit = nonlinearLeastSquares(line({ standardUncertainties: LINE_X.map(() => 0.5) }));
    const half = nonlinearLeastSquares(line({ standardUncertainties: LINE_X.map(() => 0.25) }));
    expect(half.parameters).toEqual(fit.parameters);
    expect(half.covariance![0]![0]! * 4).toBeCloseTo(fit.covariance![0]![0]!, 14);
    expect(half.chiSquare).toBeCloseTo(4 * fit.chiSquare, 10);
  });
});

describe("refusals", () => {
  it("FIT-13: a fit that stops at a false minimum of wrong derivatives is not called converged", () => {
    // The slope's derivative is claimed to be x²: residuals orthogonal to 1 and x² are no least squares.
    const fit = nonlinearLeastSquares(line({ jacobian: () => LINE_X.map((x) => [1, x * x]) }));
    expect(fit.stopped.kind).not.toBe("converged");
    expect(fit.covariance).toBeNull();
    const half = nonlinearLeastSquares(line({ jacobian: () => LINE_X.map((x) => [1, 1.05 * x + 0.1]) }));
    expect(half.stopped).toEqual({ kind: "jacobian disagrees", parameter: 1 });
  });

  it("FIT-10: problems that do not fit together are refused with their numbers", () => {
    expect(() => nonlinearLeastSquares(line({ start: [] }))).toThrow("at least one parameter");
    expect(() => nonlinearLeastSquares(line({ observations: [1] }))).toThrow("1 observations cannot determine 2");
    expect(() => nonlinearLeastSquares(line({ observations: [1, 2, Number.NaN, 4, 5, 6] }))).toThrow(
      "Observation 3 is NaN",
    );
    expect(() => nonlinearLeastSquares(line({ standardUncertainties: [1] }))).toThrow("1 standard uncertainties for 6");
    expect(() => nonlinearLeastSquares(line({ standardUncertainties: [1, 1, 1, 1, 0, 1] }))).toThrow(
      "Observation 5 has standard uncertainty 0",
    );
    expect(() => nonlinearLeastSquares(line({ values: () => [1, 2] }))).toThrow("2 values for 6 observations");
    expect(() => nonlinearLeastSquares(line({ jacobian: () => LINE_X.map(() => [1]) }))).toThrow(
      "a Jacobian of 6 × 1 for 6 observations and 2 parameters",
    );
  });
});
