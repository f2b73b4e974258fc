import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type FitPoint, fitSeparation } from "./separation-fit.ts";
import { noise } from "./testing/invented-campaign.ts";

const diagonal = (...variances: number[]) => variances.map((v, i) => variances.map((_, j) => (i === j ? v : 0)));
const point = (q: number[], variances: number[], group = "a"): FitPoint => ({
  q,
  covariance: diagonal(...variances),
  group,
});

/** Pearson's data with York's weights (checks.md, Regression; V2 and C). First channel y, second x. */
const X = [0, 0.9, 1.8, 2.6, 3.3, 4.4, 5.2, 6.1, 6.5, 7.4];
const Y = [5.9, 5.4, 4.4, 4.6, 3.5, 3.7, 2.8, 2.8, 2.4, 1.5];
const WX = [1000, 1000, 500, 800, 200, 80, 60, 20, 1.8, 1];
const WY = [1, 1.8, 4, 8, 20, 20, 70, 70, 100, 500];
const york = (shift: (i: number, channel: number) => number = () => 0) =>
  X.map((x, i) => point([Y[i]! + shift(i, 0), x + shift(i, 1)], [1 / WY[i]!, 1 / WX[i]!]));

/** The sum of squares at given weights, each intercept by golden section: no derivative anywhere. */
function profiled(points: readonly FitPoint[], u: number, a2: number): number {
  return [...new Set(points.map(({ group }) => group))].reduce((sum, group) => {
    const own = points.filter((one) => one.group === group);
    const y = own.map(({ q }) => q[0]! + a2 * q[1]!);
    const s = own.map(({ covariance: V }) => V[0]![0]! + 2 * a2 * V[0]![1]! + a2 * a2 * V[1]![1]!);
    const at = (I: number) => y.reduce((total, value, i) => total + (value - I) ** 2 / (s[i]! + (I * u) ** 2), 0);
    return sum + at(golden(at, Math.min(...y), Math.max(...y)));
  }, 0);
}

function golden(f: (x: number) => number, from: number, to: number): number {
  const ratio = (Math.sqrt(5) - 1) / 2;
  let [low, high] = [from, to];
  while (high - low > 1e-9 * Math.abs(high)) {
    const [one, other] = [high - ratio * (high - low), low + ratio * (high - low)];
    if (f(one) < f(other)) high = other;
    else low = one;
  }
  return (low + high) / 2;
}

describe("the fit of the separation", () => {
  it("gives York's line through Pearson's data (checks.md, V2 and C)", () => {
    const { weights, intercepts, chi2 } = fitSeparation(york(), 0);
    expect(-weights[1]!).toBeCloseTo(-0.480533407446, 11);
    expect(intercepts.get("a")).toBeCloseTo(5.479910224033, 11);
    expect(chi2).toBeCloseTo(11.866353, 6);
  });

  it("responds to the data as the implicit derivatives of the fit say (checks.md, C)", () => {
    let [slope, intercept] = [0, 0];
    for (const [i] of X.entries()) {
      for (const [channel, variance] of [1 / WY[i]!, 1 / WX[i]!].entries()) {
        const step = 1e-4 * Math.sqrt(variance);
        const moved = (by: number) =>
          fitSeparation(
            york((j, c) => (j === i && c === channel ? by : 0)),
            0,
          );
        const [up, down] = [moved(step), moved(-step)];
        slope += ((up.weights[1]! - down.weights[1]!) / (2 * step)) ** 2 * variance;
        intercept += ((up.intercepts.get("a")! - down.intercepts.get("a")!) / (2 * step)) ** 2 * variance;
      }
    }
    expect(Math.sqrt(slope)).toBeCloseTo(0.0576167, 6);
    expect(Math.sqrt(intercept)).toBeCloseTo(0.2919335, 6);
  });

  it("gives Deming's line where variances have one ratio (checks.md, C)", () => {
    for (const [ratio, slope, intercept] of [
      [1, -0.545561198, 5.784043775],
      [2, -0.542938958, 5.774026819],
      [0.5, -0.549370384, 5.798594867],
    ] as const) {
      const fit = fitSeparation(
        X.map((x, i) => point([Y[i]!, x], [ratio, 1])),
        0,
      );
      expect(-fit.weights[1]!).toBeCloseTo(slope, 9);
      expect(fit.intercepts.get("a")).toBeCloseTo(intercept, 8);
    }
  });

  it("gives the difference quotient with two conditions, whatever the weights", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1e-8, max: 1, noNaN: true }),
        fc.double({ min: 0, max: 0.05, noNaN: true }),
        (v, u) => {
          const fit = fitSeparation([point([6.5, 3.5], [v, 2 * v]), point([17, 17.5], [0.5 * v, v])], u);
          expect(-fit.weights[1]!).toBeCloseTo(0.75, 11);
          expect(fit.intercepts.get("a")).toBeCloseTo(3.875, 10);
          expect(fit.chi2).toBeLessThan(1e-18);
        },
      ),
    );
  });

  it("stands at the minimum that a search without derivatives finds", () => {
    const random = noise(3);
    for (const u of [0, 0.001, 0.01]) {
      const points = [
        [1, 5, "a"],
        [1, 40, "a"],
        [1, 20, "a"],
        [0.6, 3, "b"],
        [0.6, 30, "b"],
      ].map(([dose, stem, group]) => {
        const q = [5 * Number(dose) + 0.3 * Number(stem), 1.5 * Number(dose) + 0.4 * Number(stem)];
        const read = q.map((value) => value * (1 + 0.002 * random()));
        return point(
          read,
          q.map((value) => (0.002 * value) ** 2),
          String(group),
        );
      });
      const { weights, chi2 } = fitSeparation(points, u);
      const found = golden((a2) => profiled(points, u, a2), -0.9, -0.6);
      expect(weights[1]).toBeCloseTo(found, 6);
      expect(chi2).toBeCloseTo(profiled(points, u, found), 9);
    }
  });

  it("finds the weights of any number of channels from exact data", () => {
    // Light per source and channel, invented; weights that see only the first source, the first of them one.
    const response = [
      [5, 0.3, 0.05],
      [1.5, 0.4, 0.1],
      [0.6, 0.25, 0.3],
    ];
    const strength = [
      [1, 5, 0],
      [1, 40, 0],
      [1, 20, 20],
      [1, 60, 10],
      [0.5, 30, 5],
      [0.5, 2, 1],
    ];
    const points = strength.map((source, i) =>
      point(
        response.map((row) => row.reduce((sum, value, k) => sum + value * source[k]!, 0)),
        [1e-6, 1e-6, 1e-6],
        i < 4 ? "a" : "b",
      ),
    );
    const { weights, intercepts } = fitSeparation(points, 0.001);
    for (const source of [1, 2]) {
      const seen = weights.reduce((sum, weight, c) => sum + weight * response[c]![source]!, 0);
      expect(seen).toBeCloseTo(0, 10);
    }
    expect(intercepts.get("a")! / intercepts.get("b")!).toBeCloseTo(2, 10);
  });

  it("takes no notice of the order of its points", () => {
    const forth = fitSeparation(york(), 0.01);
    const back = fitSeparation(york().reverse(), 0.01);
    expect(back.weights[1]).toBeCloseTo(forth.weights[1]!, 12);
    expect(back.chi2).toBeCloseTo(forth.chi2, 10);
  });

  it("refuses conditions that do not determine it", () => {
    expect(() => fitSeparation([], 0.001)).toThrow("no condition");
    expect(() => fitSeparation([point([1, 1], [1, 1])], 0.001)).toThrow("cannot determine");
    expect(() => fitSeparation([point([1, 1], [1, 1]), point([1, 1], [1, 1], "b")], 0.001)).toThrow("cannot determine");
    expect(() => fitSeparation([point([1, 2], [0, 0]), point([2, 3], [0, 0])], 0)).toThrow("needs an uncertainty");
  });
});

describe("known doses", () => {
  const exact = (dose: number, stem: number, stated: number, group: string) =>
    point(
      [(5 * dose + 0.3 * stem) / stated, (1.5 * dose + 0.4 * stem) / stated],
      [1e-6 / stated ** 2, 1e-6 / stated ** 2],
      group,
    );
  const points = [exact(1, 5, 1, "a"), exact(1, 40, 1, "a"), exact(0.6, 3, 0.6, "b"), exact(0.6, 30, 0.6, "b")];

  it("tie their groups to one coefficient", () => {
    const { weights, tied } = fitSeparation(
      points,
      0.001,
      new Map([
        ["a", 0.004],
        ["b", 0.005],
      ]),
    );
    expect(-weights[1]!).toBeCloseTo(0.75, 10);
    expect(tied).toBeCloseTo(5 - 0.75 * 1.5, 10);
  });

  it("of one group say nothing of the weights: all its conditions share the dose's error", () => {
    const own = york();
    const free = fitSeparation(own, 0.002);
    const known = fitSeparation(own, 0.002, new Map([["a", 0.01]]));
    expect(known.weights[1]).toBeCloseTo(free.weights[1]!, 11);
    expect(known.chi2).toBeCloseTo(free.chi2, 10);
    expect(known.tied).toBeCloseTo(free.intercepts.get("a")!, 11);
  });

  it("without uncertainties of their own make one group of several", () => {
    const together = fitSeparation(
      points.map((one) => ({ ...one, group: "all" })),
      0.001,
    );
    const { weights, tied, chi2 } = fitSeparation(
      points,
      0.001,
      new Map([
        ["a", 0],
        ["b", 0],
      ]),
    );
    expect(weights[1]).toBeCloseTo(together.weights[1]!, 12);
    expect(tied).toBeCloseTo(together.intercepts.get("all")!, 12);
    expect(chi2).toBeCloseTo(together.chi2, 10);
  });

  it("lie between free groups and one group, as their uncertainty says", () => {
    const off = [...points.slice(0, 2), exact(0.606, 3, 0.6, "b"), exact(0.606, 30, 0.6, "b")];
    const chi2 = (u: number) =>
      fitSeparation(
        off,
        0.001,
        new Map([
          ["a", u],
          ["b", u],
        ]),
      ).chi2;
    expect(chi2(1)).toBeLessThan(1e-3);
    expect(chi2(0.005)).toBeLessThan(chi2(0.001));
    expect(chi2(0.001)).toBeLessThan(chi2(0));
  });

  it("have a χ² with as many degrees of freedom as it should (simulated, 400 fits)", () => {
    const random = noise(11);
    const [equality, own, light] = [0.001, 0.005, 0.0003];
    let sum = 0;
    for (let k = 0; k < 400; k++) {
      const error: Record<string, number> = { a: 1 + own * random(), b: 1 + own * random() };
      const drawn = (
        [
          [1, 5, "a"],
          [1, 40, "a"],
          [1, 20, "a"],
          [0.6, 3, "b"],
          [0.6, 30, "b"],
        ] as const
      ).map(([stated, stem, group]) => {
        const dose = stated * error[group]! * (1 + equality * random());
        const q = [5 * dose + 0.3 * stem, 1.5 * dose + 0.4 * stem].map((value) => value / stated);
        return point(
          q.map((value) => value * (1 + light * random())),
          q.map((value) => (light * value) ** 2),
          group,
        );
      });
      sum += fitSeparation(
        drawn,
        equality,
        new Map([
          ["a", own],
          ["b", own],
        ]),
      ).chi2;
    }
    // 5 points less weight and coefficient: 3, with a standard error of √(2·3/400) = 0.12.
    expect(sum / 400).toBeGreaterThan(2.6);
    expect(sum / 400).toBeLessThan(3.4);
  });
});
