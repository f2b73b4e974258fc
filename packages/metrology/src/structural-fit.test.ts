import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { evaluateAt } from "./evaluation.ts";
import { gradient } from "./gradient.ts";
import { Model } from "./model.ts";
import { propagate } from "./propagation.ts";
import { fitStructure, IndeterminateFitError, type StructuralPoint } from "./structural-fit.ts";
import { ONE } from "./unit.ts";

/** Pearson's data with York's weights (York, Can. J. Phys. 44, 1079 (1966)). */
const X = [0, 0.9, 1.8, 2.6, 3.3, 4.4, 5.2, 6.1, 6.5, 7.4];
const Y = [5.9, 5.4, 4.4, 4.6, 3.5, 3.7, 2.8, 2.8, 2.4, 1.5];
const WX = [1000, 1000, 500, 800, 200, 80, 60, 20, 1.8, 1];
const WY = [1, 1.8, 4, 8, 20, 20, 70, 70, 100, 500];

interface PlainPoint {
  readonly q: readonly number[];
  /** Upper triangle. */
  readonly v: readonly number[];
  readonly level?: number;
  readonly levelU?: number;
  readonly group?: number;
}

function fit(plain: readonly PlainPoint[]) {
  const model = new Model();
  const n = plain[0]!.q.length;
  const points = plain.map(({ q, v, level = 1, levelU = 0, group = 0 }, i): StructuralPoint => {
    const covariance = new Float64Array(n * n);
    let next = 0;
    for (let c = 0; c < n; c++) for (let d = c; d < n; d++) covariance[c * n + d] = covariance[d * n + c] = v[next++]!;
    const coordinates = model.estimates({
      key: `point-${i}`,
      type: "B",
      covariance,
      elements: q.map((value, c) => ({ name: `${c}`, symbol: `q_${c}`, label: `q${c}`, unit: ONE, value })),
    });
    return {
      coordinates,
      level: model.estimate({
        key: `level-${i}`,
        symbol: "e",
        label: "level",
        type: "B",
        unit: ONE,
        value: level,
        u: levelU,
      }),
      covariance: v.map((value, k) =>
        model.constant({ key: `weight-${i}-${k}`, symbol: "V", label: "variance", unit: ONE, value }),
      ),
      levelSpread: levelU,
      intercept: group,
    };
  });
  const groups = Math.max(...points.map(({ intercept }) => intercept)) + 1;
  const symbols = Array.from({ length: n - 1 + groups }, (_, k) => `p_${k}`);
  return {
    model,
    ...fitStructure(
      model,
      points,
      symbols,
      symbols.map(() => ONE),
    ),
  };
}

const york = () => fit(X.map((x, i) => ({ q: [Y[i]!, x], v: [1 / WY[i]!, 0, 1 / WX[i]!] })));

describe("the structural fit", () => {
  it("FIT-S1: with one group and two coordinates it is York's line (V2 and C)", () => {
    const { parameters, state } = york();
    expect(-parameters[0]!.value).toBeCloseTo(-0.480533407446, 11);
    expect(parameters[1]!.value).toBeCloseTo(5.479910224033, 11);
    expect(state.chi2).toBeCloseTo(11.866353, 6);
    expect(state.dof).toBe(8);
    expect(state.reason).toBe("converged");
  });

  it("FIT-S2: the implicit derivatives propagate York's data to 0.2919335 and 0.0576167 (C)", () => {
    const { model, parameters } = york();
    expect(propagate(model, parameters[1]!).u).toBeCloseTo(0.2919335, 7);
    expect(propagate(model, parameters[0]!).u).toBeCloseTo(0.0576167, 7);
  });

  it("FIT-S2: every derivative agrees with differences of refitted minima to 1e-9", () => {
    const { model, parameters } = york();
    for (const parameter of parameters) {
      const adjoints = gradient(model, parameter.index);
      const scale = Math.max(...adjoints.map(Math.abs));
      for (const call of model.calls)
        for (const input of call.inputs) {
          const value = model.values[input]!;
          const h = 1e-3 * (Math.abs(value) || 1);
          const at = (shift: number) => evaluateAt(model, new Map([[input, value + shift]])).values[parameter.index]!;
          // central differences of three step lengths, extrapolated twice (Richardson)
          const d = [h, h / 2, h / 4].map((s) => (at(s) - at(-s)) / (2 * s));
          const [d1, d2] = [(4 * d[1]! - d[0]!) / 3, (4 * d[2]! - d[1]!) / 3];
          const difference = (16 * d2 - d1) / 15;
          expect(Math.abs(adjoints[input]! - difference)).toBeLessThan(1e-9 * scale);
        }
    }
  });

  it("FIT-S3: two points of one group give the exact ratio of differences, whatever the weights", () => {
    const positive = fc.double({ min: 1e-6, max: 10, noNaN: true });
    fc.assert(
      fc.property(positive, positive, positive, positive, (v1, v2, v3, v4) => {
        const { parameters, state } = fit([
          { q: [6.5, 3.5], v: [v1, 0, v2] },
          { q: [17, 17.5], v: [v3, 0, v4] },
        ]);
        expect(-parameters[0]!.value).toBeCloseTo(0.75, 9);
        expect(state.dof).toBe(0);
        expect(state.chi2).toBeLessThan(1e-15);
      }),
      { seed: 20261124, numRuns: 100 },
    );
  });

  it("FIT-S4: groups of different dose share the coefficients and keep their intercepts", () => {
    // q₁ = 2·D + 0.75·C, q₂ = 0.5·D + C: a₂ = −0.75, I = (2 − 0.375)·D
    const point = (dose: number, c: number, group: number): PlainPoint => ({
      q: [2 * dose + 0.75 * c, 0.5 * dose + c],
      v: [1e-6, 0, 1e-6],
      group,
    });
    const { parameters } = fit([point(1, 1, 0), point(1, 3, 0), point(2, 1, 1), point(2, 5, 1)]);
    expect(parameters[0]!.value).toBeCloseTo(-0.75, 12);
    expect(parameters[1]!.value).toBeCloseTo(1.625, 12);
    expect(parameters[2]!.value).toBeCloseTo(3.25, 12);
  });

  it("FIT-S4: a level other than one scales what a point should show", () => {
    const { parameters } = fit([
      { q: [1.2, 0.9], v: [1e-6, 0, 1e-6] },
      { q: [3.0, 2.6], v: [1e-6, 0, 1e-6], level: 2 },
    ]);
    // weights of checks.md, Light: (1.20, 0.90) and (1.50, 1.30) at dose 1 → a/I = 1.9047619, −1.42857143 (C)
    expect(1 / parameters[1]!.value).toBeCloseTo(1.9047619, 7);
    expect(parameters[0]!.value / parameters[1]!.value).toBeCloseTo(-1.42857143, 8);
  });

  it("FIT-S5: three coordinates find two coefficients", () => {
    // two lights (2, 1, .5) and (.5, 1, 3) besides dose (1, .2, .1)
    const point = (c: number, d: number): PlainPoint => ({
      q: [1 + 2 * c + 0.5 * d, 0.2 + c + d, 0.1 + 0.5 * c + 3 * d],
      v: [1e-6, 0, 0, 1e-6, 0, 1e-6],
    });
    const { parameters, state } = fit([point(0, 0), point(1, 0), point(0, 1), point(1, 1)]);
    const a = [1, parameters[0]!.value, parameters[1]!.value];
    expect(2 * a[0]! + a[1]! + 0.5 * a[2]!).toBeCloseTo(0, 10);
    expect(0.5 * a[0]! + a[1]! + 3 * a[2]!).toBeCloseTo(0, 10);
    expect(state.dof).toBe(1);
  });

  it("FIT-S6: the uncertainty of the levels weighs a point down and moves the fit", () => {
    const points: PlainPoint[] = [
      { q: [6.5, 3.5], v: [1e-6, 0, 1e-6] },
      { q: [11.05, 9.5], v: [1e-6, 0, 1e-6] },
      { q: [17, 17.5], v: [1e-6, 0, 1e-6] },
    ];
    const chi2 = fit(points).state.chi2;
    const loose = fit(points.map((point) => ({ ...point, levelU: 0.01 })));
    expect(loose.state.chi2).toBeLessThan(chi2 / 100);
    expect(propagate(loose.model, loose.parameters[0]!).u).toBeGreaterThan(0);
  });

  it("FIT-S7: too few points, points on top of each other and points without any uncertainty are refused", () => {
    const v = [1e-6, 0, 1e-6];
    expect(() => fit([{ q: [6.5, 3.5], v }])).toThrow(IndeterminateFitError);
    expect(() =>
      fit([
        { q: [6.5, 3.5], v },
        { q: [6.5, 3.5], v },
      ]),
    ).toThrow(IndeterminateFitError);
    expect(() =>
      fit([
        { q: [6.5, 3.5], v: [0, 0, 0] },
        { q: [17, 17.5], v: [0, 0, 0] },
      ]),
    ).toThrow(IndeterminateFitError);
  });

  it("FIT-S7: no points at all, and points unlike the first, are refused", () => {
    const model = new Model();
    const node = (i: number) =>
      model.constant({ key: `${i}-${model.tape.length}`, symbol: "x", label: "x", unit: ONE, value: 1 + i });
    const point = (coordinates: number, covariances: number): StructuralPoint => ({
      coordinates: Array.from({ length: coordinates }, (_, i) => node(i)),
      level: node(0),
      covariance: Array.from({ length: covariances }, (_, i) => node(i)),
      levelSpread: 0,
      intercept: 0,
    });
    const fitted =
      (...points: StructuralPoint[]) =>
      () =>
        fitStructure(model, points, ["a", "I"], [ONE, ONE]);
    expect(fitted()).toThrow(IndeterminateFitError);
    expect(fitted(point(2, 3), point(2, 2))).toThrow(
      "point 2: 2 coordinates and 3 covariances are needed, not 2 and 2",
    );
    expect(fitted(point(2, 3), point(3, 3))).toThrow("point 2");
    expect(fitted(point(2, 2), point(2, 3))).toThrow("point 1");
  });

  it("FIT-S9: points whose matrix of second derivatives rounds to an asymmetric one are fitted (a found seed)", () => {
    const points = [
      [3800.567546741672, 1048.1731581781648, 84809.6323967051, 21050.97757792944, 6450.811294549067],
      [6147.236374836112, 2325.589819135956, 221874.85966008675, 75544.66673413481, 31755.17458112431],
      [11079.425227943271, 5531.062342278861, 720746.8142338227, 323829.61502593843, 179624.4191508002],
      [11820.016818795797, 5729.6833319167545, 820322.1883686862, 357881.70164200716, 192756.71206561496],
      [14781.788813542273, 7659.9004538623785, 1282927.9184698346, 598330.1643682714, 344504.20006040286],
    ].map(([a, b, ...v]) => ({ q: [a!, b!], v, levelU: 0.004870768585158714 }));
    expect(fit(points).state.reason).toBe("converged");
  });

  it("FIT-S9: two points that lie close together converge as well: χ² stands still where they let the figure move", () => {
    const points = [
      [13.505449956666691, 5.224632401518169, 1.852490465040835, 0.6449784023775051, 0.2772358212715876],
      [19.14261090942882, 7.409654625749294, 3.7216901179795676, 1.2965208704231042, 0.5576141630583233],
    ].map(([a, b, ...v]) => ({ q: [a!, b!], v, levelU: 0.0004527639972739143 }));
    const { parameters, state } = fit(points);
    expect(state.reason).toBe("converged");
    const ratio = (19.14261090942882 - 13.505449956666691) / (7.409654625749294 - 5.224632401518169);
    expect(-parameters[0]!.value).toBeCloseTo(ratio, 9);
  });

  it("FIT-S8: the fit's own covariance stands within a few per cent of the propagated one (a cross-check)", () => {
    const { model, parameters, state } = york();
    expect(Math.sqrt(state.ownCovariance[0]!) / propagate(model, parameters[0]!).u).toBeCloseTo(1, 1);
    expect(Math.sqrt(state.ownCovariance[3]!) / propagate(model, parameters[1]!).u).toBeCloseTo(1, 1);
  });
});
