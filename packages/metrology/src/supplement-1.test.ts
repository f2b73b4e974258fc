import { describe, expect, it } from "vitest";
import { type Distribution, Model } from "./model.ts";
import { type MonteCarloResult, monteCarlo } from "./monte-carlo.ts";
import { blockRunner } from "./monte-carlo-blocks.ts";
import { propagate } from "./propagation.ts";
import { validatePropagation } from "./propagation-validation.ts";
import { fitStructure } from "./structural-fit.ts";
import { type Scalar, sum } from "./tape.ts";
import { ONE, Unit } from "./unit.ts";

const M = 1_000_000;

/** Half the width of a two-sided test at four standard errors: a seed is off by chance once in 16 000. */
const SIGMAS = 4;

/** Standard error of a quantile with 2.5 % beyond it, where the density is f. */
const ofQuantile = (f: number) => Math.sqrt((0.025 * 0.975) / M) / f;

function additive(distribution: Distribution, us: readonly number[]) {
  const model = new Model();
  const terms = us.map((u, i) =>
    model.estimate({ key: `x${i}`, symbol: `X_${i}`, label: `x${i}`, type: "B", unit: ONE, value: 0, u, distribution }),
  );
  return run(model, sum(terms));
}

function run(model: Model, y: Scalar, seed = 101): { result: MonteCarloResult; model: Model; y: Scalar } {
  return { result: monteCarlo(model, [y], { seed, trials: M }).results[0]!, model, y };
}

function expectNear(found: number | null, expected: number, standardError: number): void {
  expect(found).not.toBeNull();
  expect(Math.abs(found! - expected)).toBeLessThan(SIGMAS * standardError);
}

describe("GUM Supplement 1 (JCGM 101:2008), additive models", () => {
  it("MC-12: 9.2.2, four normal inputs: u 2, 95 % ±3.919928 (C)", () => {
    const { result, model, y } = additive("normal", [1, 1, 1, 1]);
    expectNear(result.mean, 0, 2e-3);
    expectNear(result.u, 2, 2 / Math.sqrt(2 * M));
    // normal density with u 2 at 1.96 u
    const error = ofQuantile(0.0584451 / 2);
    expectNear(result.symmetric!.low, -3.919928, error);
    expectNear(result.symmetric!.high, 3.919928, error);
    expect(validatePropagation(propagate(model, y), result, 1)!.agrees).toBe(true);
  });

  it("MC-12: 9.2.3, four rectangular inputs: 95 % ±3.879407 (C; printed 3.88, V2), where the GUM says 3.92", () => {
    const { result, model, y } = additive("rectangular", [1, 1, 1, 1]);
    expectNear(result.mean, 0, 2e-3);
    // kurtosis 3 − 1.2/4 = 2.7: the variance has the relative standard error √(1.7/M), u half of it
    expectNear(result.u, 2, Math.sqrt(1.7 / M));
    // density in the last quarter: t³/6 per 2√3, with t = 0.6^¼ (t⁴/24 is the tail)
    const error = ofQuantile(0.6 ** 0.75 / 6 / (2 * Math.sqrt(3)));
    expectNear(result.symmetric!.low, -3.879407, error);
    expectNear(result.symmetric!.high, 3.879407, error);
    // the ends lie 0.0405 apart
    expect(validatePropagation(propagate(model, y), result, 2)).toMatchObject({ tolerance: 0.05, agrees: true });
    expect(validatePropagation(propagate(model, y), result, 3)).toMatchObject({ tolerance: 0.005, agrees: false });
  });

  it("MC-12: 9.2.4, one of them ten times as wide: u 10.148892, 95 % ±17.015814 (C), where the GUM says ±19.891462", () => {
    const { result, model, y } = additive("rectangular", [1, 1, 1, 10]);
    const linear = propagate(model, y);
    expect(linear.u).toBeCloseTo(10.148892, 6);
    expect(linear.U).toBeCloseTo(19.891462, 5);
    // fourth moment 1.8·10⁴ + 6·3·100 + 3·9 − 1.2·3 over 103²: kurtosis 1.87
    expectNear(result.u, 10.148892, (10.148892 * Math.sqrt(0.87 / M)) / 2);
    // at 17.0158 the rectangle of half width 17.3205 and density 1/34.641 is still there for 57 % of the other sums
    const error = ofQuantile(0.57 / 34.641);
    expectNear(result.symmetric!.low, -17.015814, error);
    expectNear(result.symmetric!.high, 17.015814, error);
    expect(validatePropagation(linear, result, 2)).toMatchObject({ tolerance: 0.5, agrees: false });
  });
});

describe("GUM Supplement 1 (JCGM 101:2008), 9.4, comparison loss Y = X₁² + X₂²", () => {
  /** In 1e-6: u of each input 5, so that squares count in 1e-6 of the published unit. */
  function loss(x1: number) {
    const model = new Model();
    const [a, b] = [x1, 0].map((value, i) =>
      model.estimate({ key: `x${i}`, symbol: `X_${i}`, label: `x${i}`, type: "B", unit: ONE, value, u: 0.005 }),
    );
    return run(model, a!.times(a!).plus(b!.times(b!)), 102);
  }

  it("MC-12: x₁ = 0: 50 ± 50, shortest 95 % [0, 149.787] (C; form of the example M); the GUM finds no uncertainty", () => {
    const { result, model, y } = loss(0);
    expect(propagate(model, y).u).toBe(0);
    // exponential of scale 50: standard errors 50/√M; of u, with kurtosis 9, 50·√(8/M)/2
    expectNear(result.mean! * 1e6, 50, 50 / Math.sqrt(M));
    expectNear(result.u! * 1e6, 50, 25 * Math.sqrt(8 / M));
    // densest at its very beginning: moving the start by one trial lengthens the interval twentyfold
    expect(result.shortest!.low * 1e6).toBeGreaterThanOrEqual(0);
    expect(result.shortest!.low * 1e6).toBeLessThan(0.02);
    // the end is the 95 % quantile, density 0.05/50
    expectNear(result.shortest!.high * 1e6, 149.787, Math.sqrt((0.05 * 0.95) / M) / 1e-3);
    // symmetric: −50·ln 0.975 and −50·ln 0.025 (C)
    expectNear(result.symmetric!.low * 1e6, 1.26589, Math.sqrt((0.025 * 0.975) / M) / (0.975 / 50));
    expectNear(result.symmetric!.high * 1e6, 184.44397, Math.sqrt((0.025 * 0.975) / M) / (0.025 / 50));
    expect(validatePropagation(propagate(model, y), result)!.agrees).toBe(false);
  });

  it("MC-12: x₁ = 0.010: 150 ± 111.803, shortest 95 % [0, 366.005] (C)", () => {
    const { result } = loss(0.01);
    expectNear(result.mean! * 1e6, 150, 111.803 / Math.sqrt(M));
    // noncentral χ² of 2 degrees and λ = 4: kurtosis 3 + 12·(2 + 16)/(2 + 8)² = 5.16
    expectNear(result.u! * 1e6, 111.803, (111.803 * Math.sqrt(4.16 / M)) / 2);
    // density 2.7067e-3 at zero and 5.539e-4 at the end (computed with scipy, C)
    expect(result.shortest!.low * 1e6).toBeGreaterThanOrEqual(0);
    expect(result.shortest!.low * 1e6).toBeLessThan(0.1);
    expectNear(result.shortest!.high * 1e6, 366.005, Math.sqrt((0.05 * 0.95) / M) / 5.539e-4);
  });

  it("MC-12: x₁ = 0.050: 2550 ± 502.494, shortest 95 % [1593.57, 3548.57] (C)", () => {
    const { result } = loss(0.05);
    expectNear(result.mean! * 1e6, 2550, 502.494 / Math.sqrt(M));
    expectNear(result.u! * 1e6, 502.494, (502.494 * Math.sqrt(2.12 / M)) / 2);
    // Along its flat minimum the interval wanders: its length is L₀ + ½k·a² beside a random walk of variance
    // (1/f² + 1/f²)/M per unit of a, the probability below; the least lies at a with Chernoff's law, standard deviation
    // 0.516·(2σ/k)^⅔ = 6.1e-4, and both ends move by a/f = 5.2 (k 595 367, f 1.1719e-4 from scipy, C).
    expectNear(result.shortest!.low * 1e6, 1593.57, 5.2);
    expectNear(result.shortest!.high * 1e6, 3548.57, 5.2);
    // its length is known far better: a quantile's error
    const length = (result.shortest!.high - result.shortest!.low) * 1e6;
    expectNear(length, 3548.57 - 1593.57, Math.SQRT2 * ofQuantile(1.1719e-4));
    // symmetric: [1638.477, 3603.358] (computed with scipy, C)
    expectNear(result.symmetric!.low * 1e6, 1638.477, ofQuantile(1.3e-4));
    expectNear(result.symmetric!.high * 1e6, 3603.358, ofQuantile(1.0e-4));
  });
});

/** GUM (JCGM 100:2008) H.2, five triples of V in V, I in mA, φ in rad. */
const TRIPLES = [
  [5.007, 19.663, 1.0456],
  [4.994, 19.639, 1.0438],
  [5.005, 19.64, 1.0468],
  [4.99, 19.685, 1.0428],
  [4.999, 19.678, 1.0433],
] as const;

function impedance(dof: number) {
  const n = TRIPLES.length;
  const means = [0, 1, 2].map((c) => TRIPLES.reduce((total, t) => total + t[c]!, 0) / n);
  const covariance = [0, 1, 2].flatMap((c) =>
    [0, 1, 2].map(
      (d) => TRIPLES.reduce((total, t) => total + (t[c]! - means[c]!) * (t[d]! - means[d]!), 0) / (n * (n - 1)),
    ),
  );
  const model = new Model();
  const units = ["V", "mA", "1"].map((unit) => Unit.parse(unit));
  const elements = ["V", "I", "φ"].map((symbol, c) => ({
    name: symbol,
    symbol,
    label: symbol,
    unit: units[c]!,
    value: means[c]!,
  }));
  const [v, i, phi] = model.estimates({ key: "readings", type: "A", dof, covariance, elements });
  const z = v!.over(i!).times(1000);
  return { model, results: [z.times(phi!.cosine()), z.times(phi!.sine()), z] };
}

const VALUES = [127.73217, 219.84651, 254.2597];
const US = [0.0710714, 0.2955817, 0.2363361];

describe("GUM H.2, correlated inputs", () => {
  it("MC-13: with the covariance taken as known: values, uncertainties and correlations (C)", () => {
    const { model, results } = impedance(Number.POSITIVE_INFINITY);
    const found = monteCarlo(model, results, { seed: 103, trials: M }).results;
    found.forEach(({ mean, u }, k) => {
      // the curvature adds (u_I/I)² = 2e-7 and less to the values: nothing beside the standard errors
      expectNear(mean, VALUES[k]!, US[k]! / Math.sqrt(M));
      expectNear(u, US[k]!, US[k]! / Math.sqrt(2 * M));
    });
    const { values } = blockRunner(model, results)(103, 0, 489);
    const correlation = (a: number, b: number) => {
      const [ma, mb] = [found[a]!.mean!, found[b]!.mean!];
      const covariance = values[a]!.reduce((total, x, i) => total + (x - ma) * (values[b]![i]! - mb), 0) / M;
      return covariance / (found[a]!.u! * found[b]!.u!);
    };
    // standard error (1 − r²)/√M, and the sums run over 1.001 M
    for (const [a, b, r] of [
      [0, 1, -0.58843],
      [0, 2, -0.485259],
      [1, 2, 0.992512],
    ] as const)
      expect(Math.abs(correlation(a, b) / (values[0]!.length / M) - r)).toBeLessThan(SIGMAS * 1e-3);
  });

  it("MC-13: with its 4 degrees of freedom: t, U = 2.776445·u, and a standard deviation of √2·u", () => {
    const { model, results } = impedance(4);
    const { results: found } = monteCarlo(model, results, { seed: 104, trials: M });
    found.forEach(({ u, symmetric }, k) => {
      const linear = propagate(model, results[k]!);
      expect(linear.k).toBeCloseTo(2.776445, 6);
      // the sample variance of t₄ has no standard error: within 3 % is what half a dozen seeds give
      expect(Math.abs(u! / (Math.SQRT2 * US[k]!) - 1)).toBeLessThan(0.03);
      // density of t₄ at 2.776: 0.375·(1 + t²/4)^(−5/2) = 0.0225
      const error = US[k]! * ofQuantile(0.375 * (1 + 2.776445 ** 2 / 4) ** -2.5);
      expectNear(symmetric!.low, VALUES[k]! - linear.U, error);
      expectNear(symmetric!.high, VALUES[k]! + linear.U, error);
      expect(validatePropagation(linear, { symmetric }, 1)!.agrees).toBe(true);
    });
  });
});

describe("York's line through Pearson's data", () => {
  const X = [0, 0.9, 1.8, 2.6, 3.3, 4.4, 5.2, 6.1, 6.5, 7.4];
  const Y = [5.9, 5.4, 4.4, 4.6, 3.5, 3.7, 2.8, 2.8, 2.4, 1.5];
  const WX = [1000, 1000, 500, 800, 200, 80, 60, 20, 1.8, 1];
  const WY = [1, 1.8, 4, 8, 20, 20, 70, 70, 100, 500];

  function york(shrink: number) {
    const model = new Model();
    const level = model.constant({ key: "level", symbol: "e", label: "level", unit: ONE, value: 1 });
    const zero = model.constant({ key: "V", symbol: "V", label: "covariance", unit: ONE, value: 0 });
    const points = X.map((x, i) => {
      const coordinate = (name: string, value: number, weight: number) => ({
        estimate: model.estimate({
          key: `${name}${i}`,
          symbol: name,
          label: name,
          type: "B",
          unit: ONE,
          value,
          u: shrink / Math.sqrt(weight),
        }),
        variance: model.constant({ key: `V${name}${i}`, symbol: "V", label: "weight", unit: ONE, value: 1 / weight }),
      });
      const [y, own] = [coordinate("y", Y[i]!, WY[i]!), coordinate("x", x, WX[i]!)];
      const coordinates = [y.estimate, own.estimate];
      return { coordinates, level, covariance: [y.variance, zero, own.variance], levelSpread: 0, intercept: 0 };
    });
    const { parameters } = fitStructure(model, points, ["a", "I"], [ONE, ONE]);
    return { model, slope: parameters[0]!.negative(), intercept: parameters[1]! };
  }

  it("MC-13: Monte Carlo finds what two million fits in another language find (computed with numpy, C)", () => {
    const { model, slope, intercept } = york(1);
    const [b, a] = monteCarlo(model, [slope, intercept], { seed: 105, trials: M }).results;
    expect([b!.failures, a!.failures]).toEqual([0, 0]);
    // their standard errors: √2 of ours over √2, so 1.22 of ours together; kurtosis 3.09 and 3.04 is near enough normal
    const [ub, ua] = [0.0579499, 0.2928944];
    expectNear(b!.mean, -0.4832057, (1.22 * ub) / Math.sqrt(M));
    expectNear(a!.mean, 5.4907356, (1.22 * ua) / Math.sqrt(M));
    expectNear(b!.u, ub, (1.22 * ub) / Math.sqrt(2 * M));
    expectNear(a!.u, ua, (1.22 * ua) / Math.sqrt(2 * M));
    // density of a normal distribution at 1.96 u, once more √1.5 for both errors
    expectNear(b!.symmetric!.low, -0.6038998, 1.22 * ofQuantile(0.0584 / ub));
    expectNear(b!.symmetric!.high, -0.3769297, 1.22 * ofQuantile(0.0584 / ub));
    expectNear(a!.symmetric!.low, 4.9399365, 1.22 * ofQuantile(0.0584 / ua));
    expectNear(a!.symmetric!.high, 6.0881719, 1.22 * ofQuantile(0.0584 / ua));
    // implicit linear propagation: 0.0576167 and 0.2919335 (C), 0.6 and 0.3 % less, as the curvature is left out
    expect(b!.u! / propagate(model, slope).u).toBeCloseTo(1.0058, 2);
    expect(a!.u! / propagate(model, intercept).u).toBeCloseTo(1.0033, 2);
  });

  it("MC-13: with errors a tenth as large the two routes are one: 0.02919335 and 0.00576167 (C)", () => {
    const { model, slope, intercept } = york(0.1);
    const [b, a] = monteCarlo(model, [slope, intercept], { seed: 106, trials: M }).results;
    expectNear(b!.u, 0.00576167, 0.00576167 / Math.sqrt(2 * M));
    expectNear(a!.u, 0.02919335, 0.02919335 / Math.sqrt(2 * M));
    // a hundredth of the full bias is left: −2.7e-5 for the slope
    expectNear(b!.mean, -0.480533407 - 2.7e-5, 0.00576167 / Math.sqrt(M));
    expect(validatePropagation(propagate(model, slope), b!, 1)!.agrees).toBe(true);
  });
});
