import { describe, expect, it } from "vitest";
import { coverageFactor } from "./distributions.ts";
import { Model } from "./model.ts";
import { budget, covarianceOf, propagate } from "./propagation.ts";
import { secondOrder } from "./second-order.ts";
import { Unit } from "./unit.ts";

/** GUM (JCGM 100:2008) H.1, calibration of an end gauge. Inputs as in checks.md. */
function endGauge() {
  const model = new Model();
  const nm = Unit.parse("nm");
  const perKelvin = Unit.parse("1/K");
  const kelvin = Unit.parse("K");
  const estimate = (key: string, value: number, u: number, unit: Unit, dof?: number) =>
    model.estimate({ key, symbol: key, label: key, type: "B", value, u, unit, ...(dof !== undefined && { dof }) });
  const ls = estimate("ls", 50_000_623, 25, nm, 18);
  const d = estimate("d", 215, 9.7, nm, 25.6);
  const alphaS = estimate("alphaS", 11.5e-6, 1.2e-6, perKelvin);
  const theta = estimate("theta", -0.1, 0.41, kelvin);
  const dAlpha = estimate("dAlpha", 0, 0.58e-6, perKelvin, 50);
  const dTheta = estimate("dTheta", 0, 0.029, kelvin, 2);
  const l = ls
    .plus(d)
    .minus(ls.times(dAlpha.times(theta).plus(alphaS.times(dTheta))))
    .named("l", "l", "length");
  return { model, l };
}

/** GUM H.2: simultaneous resistance and reactance. V in V, I in mA, φ in rad. */
const TRIPLES = [
  [5.007, 19.663, 1.0456],
  [4.994, 19.639, 1.0438],
  [5.005, 19.64, 1.0468],
  [4.99, 19.685, 1.0428],
  [4.999, 19.678, 1.0433],
] as const;

function impedance(correlated: boolean) {
  const n = TRIPLES.length;
  const means = [0, 1, 2].map((c) => TRIPLES.reduce((s, t) => s + t[c]!, 0) / n);
  const covariance = [0, 1, 2].flatMap((c) =>
    [0, 1, 2].map((d) =>
      c !== d && !correlated
        ? 0
        : TRIPLES.reduce((s, t) => s + (t[c]! - means[c]!) * (t[d]! - means[d]!), 0) / (n * (n - 1)),
    ),
  );
  const model = new Model();
  const units = ["V", "A", "1"].map((u) => Unit.parse(u));
  const [v, i, phi] = model.estimates({
    key: "readings",
    type: "A",
    dof: n - 1,
    covariance: covariance.map((x, k) => x * (k % 3 === 1 ? 1e-3 : 1) * (Math.floor(k / 3) === 1 ? 1e-3 : 1)),
    elements: ["V", "I", "phi"].map((name, c) => ({
      name,
      symbol: name,
      label: name,
      unit: units[c]!,
      value: means[c]! * (c === 1 ? 1e-3 : 1),
    })),
  });
  const z = v!.over(i!);
  return { model, results: [z.times(phi!.cosine()), z.times(phi!.sine()), z] };
}

describe("the examples of the GUM through the graph", () => {
  it("PROP-1: H.1, the end gauge: value and combined uncertainty (V2, digits C)", () => {
    const { model, l } = endGauge();
    const { value, u } = propagate(model, l);
    expect(value).toBeCloseTo(50_000_838, 6);
    expect(u).toBeCloseTo(31.7106, 4);
  });

  it("PROP-3: H.1: effective degrees of freedom 16.6561, truncated 16 gives k 2.920782 and U99 92.62 (C)", () => {
    const { model, l } = endGauge();
    const { u, dof } = propagate(model, l);
    expect(dof).toBeCloseTo(16.6561, 4);
    const k = coverageFactor(0.99, Math.floor(dof));
    expect(k).toBeCloseTo(2.920782, 6);
    expect(k * u).toBeCloseTo(92.62, 2);
  });

  it("PROP-5: H.1: second-order terms give u = 33.9111 (C; V2 prints 34)", () => {
    const { model, l } = endGauge();
    expect(secondOrder(model, l).u).toBeCloseTo(33.9111, 4);
  });

  it("PROP-2: H.2, approach 1 with correlations: values, uncertainties and correlations (C)", () => {
    const { model, results } = impedance(true);
    const values = [127.73217, 219.84651, 254.2597];
    const us = [0.0710714, 0.2955817, 0.2363361];
    results.forEach((result, k) => {
      const { value, u, dof } = propagate(model, result);
      expect(value).toBeCloseTo(values[k]!, 5);
      expect(u).toBeCloseTo(us[k]!, 7);
      expect(dof).toBeCloseTo(4, 9);
    });
    const covariance = covarianceOf(model, results);
    const r = (i: number, j: number) =>
      covariance[i * 3 + j]! / Math.sqrt(covariance[i * 3 + i]! * covariance[j * 3 + j]!);
    expect(r(0, 1)).toBeCloseTo(-0.58843, 6);
    expect(r(0, 2)).toBeCloseTo(-0.485259, 6);
    expect(r(1, 2)).toBeCloseTo(0.992512, 6);
  });

  it("PROP-2: H.2 with the correlations wrongly ignored is visibly another answer (C)", () => {
    const { model, results } = impedance(false);
    const us = [0.194544, 0.200909, 0.204076];
    results.forEach((result, k) => {
      expect(propagate(model, result).u).toBeCloseTo(us[k]!, 6);
    });
  });

  it("PROP-2: H.2, approach 2: the same results as means of five (C)", () => {
    const results = TRIPLES.map(([v, i, phi]) => {
      const model = new Model();
      const constant = (key: string, value: number) =>
        model.constant({ key, symbol: key, label: key, value, unit: Unit.parse("1") });
      const z = constant("V", v).over(constant("I", i * 1e-3));
      const angle = constant("phi", phi);
      return [z.times(angle.cosine()).value, z.times(angle.sine()).value, z.value];
    });
    const values = [127.73163, 219.84689, 254.26005];
    const us = [0.0712735, 0.2954891, 0.2362475];
    values.forEach((value, k) => {
      const mean = results.reduce((s, row) => s + row[k]!, 0) / 5;
      const u = Math.sqrt(results.reduce((s, row) => s + (row[k]! - mean) ** 2, 0) / 20);
      expect(mean).toBeCloseTo(value, 5);
      expect(u).toBeCloseTo(us[k]!, 7);
    });
  });

  it("PROP-4: the shares of every budget add up to one, correlated inputs included", () => {
    const { model, results } = impedance(true);
    for (const result of results) {
      const lines = budget(propagate(model, result));
      expect(lines.length).toBeGreaterThan(1);
      expect(lines.reduce((s, { share }) => s + share, 0)).toBeCloseTo(1, 12);
    }
  });

  it("PROP-3: four equal components with 10 degrees of freedom each have 40; of one group, 10 (GUM G.4.1, V2)", () => {
    const one = Unit.parse("1");
    const total = (group?: string) => {
      const model = new Model();
      const parts = [1, 2, 3, 4].map((i) =>
        model.estimate({
          key: `x${i}`,
          symbol: `x_${i}`,
          label: `x${i}`,
          type: "A",
          value: 1,
          u: 0.5,
          unit: one,
          dof: 10,
          ...(group !== undefined && { group }),
        }),
      );
      const node = parts[0]!.plus(parts[1]!).plus(parts[2]!).plus(parts[3]!);
      return propagate(model, node).dof;
    };
    expect(total()).toBeCloseTo(40, 12);
    expect(total("one estimate")).toBeCloseTo(10, 12);
  });
});
