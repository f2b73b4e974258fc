import { describe, expect, it } from "vitest";
import { ChebyshevEvaluator } from "./chebyshev.ts";
import { type DeviateSurface, deviateSurface, SURFACE_REACH } from "./deviate-surface.ts";
import { Model } from "./model.ts";
import { monteCarlo } from "./monte-carlo.ts";
import { blockRunner } from "./monte-carlo-blocks.ts";
import { propagate } from "./propagation.ts";
import { restore, store } from "./serialisation.ts";
import { ONE } from "./unit.ts";

/** What a displacement costs in a Gaussian field, 1/L − 1 with L = exp(−(x² + y²)/2s²). */
const loss = (s: number) => (x: number, y: number) => Math.exp((x * x + y * y) / (2 * s * s)) - 1;

function at(surface: DeviateSurface, x: number, y: number): number {
  const evaluator = new ChebyshevEvaluator(surface);
  evaluator.place(0, x / SURFACE_REACH);
  evaluator.place(1, y / SURFACE_REACH);
  return evaluator.value();
}

function withSurface(s: number, u: number) {
  const model = new Model();
  const block = { key: "place", symbol: "δ", label: "place", type: "B" as const, unit: ONE, value: 0, u };
  const place = model.estimate({ ...block, surface: () => deviateSurface(loss(s), 2, 1e-6) });
  return { model, place };
}

describe("a surface over normal deviates", () => {
  it("MC-17: it is the function, everywhere within six standard deviations", () => {
    for (const s of [20, 8, 4]) {
      const f = loss(s);
      const surface = deviateSurface(f, 2, 1e-4);
      for (const x of [-6, -3.3, 0, 1.7, 5.9])
        for (const y of [-5.5, -0.4, 0, 2.2, 6]) expect(Math.abs(at(surface, x, y) - f(x, y))).toBeLessThan(2e-4);
    }
  });

  it("MC-17: it has as few terms as it needs, and of an even function only even ones", () => {
    const surface = deviateSurface(loss(20), 2, 1e-4);
    expect(surface.coefficients.length).toBeLessThan(16);
    expect([...surface.orders].every((order) => order % 2 === 0)).toBe(true);
    const line = deviateSurface((z) => 3 * z, 1, 1e-9);
    expect(line.degrees).toEqual([1]);
  });

  it("MC-17: an estimate with a surface is drawn as that function: mean and standard deviation in closed form", () => {
    const s = 8;
    const { model, place } = withSurface(s, 0.0158);
    const { results } = monteCarlo(model, [place.plus(1)], { seed: 3, trials: 500_000 });
    // E[1/L] = 1/(1 − v), E[1/L²] = 1/(1 − 2v) with v = 1/s², two axes
    const v = 1 / (s * s);
    const mean = 1 / (1 - v);
    const sd = Math.sqrt(1 / (1 - 2 * v) - mean * mean);
    const { mean: found, u, symmetric } = results[0]!;
    expect(Math.abs(found! - mean)).toBeLessThan((4 * sd) / Math.sqrt(500_000));
    expect(u! / sd).toBeCloseTo(1, 2);
    // (x² + y²)/2 is exponential: the upper end lies at exp(−ln(0.025)/s²), the lower at exp(−ln(0.975)/s²)
    expect(symmetric!.high).toBeCloseTo(Math.exp(-Math.log(0.025) / (s * s)), 3);
    expect(symmetric!.low).toBeCloseTo(Math.exp(-Math.log(0.975) / (s * s)), 3);
  });

  it("MC-17: the law of propagation takes the stated standard uncertainty, and never asks for the surface", () => {
    const model = new Model();
    const block = { key: "place", symbol: "δ", label: "place", type: "B" as const, unit: ONE, value: 0, u: 0.02 };
    const surface = (): DeviateSurface => {
      throw new Error("asked for");
    };
    const place = model.estimate({ ...block, surface });
    expect(propagate(model, place).u).toBeCloseTo(0.02, 15);
    expect(() => blockRunner(model, [place])).toThrow("asked for");
  });

  it("MC-17: a block with a surface has one element", () => {
    const element = { symbol: "x", label: "x", unit: ONE, value: 0 };
    const elements = ["a", "b"].map((name) => ({ ...element, name }));
    const surface = () => deviateSurface(loss(9), 2, 1e-3);
    expect(() => new Model().estimates({ key: "two", type: "B", covariance: [1, 0, 0, 1], elements, surface })).toThrow(
      "one element, not 2",
    );
  });

  it("STORE-6: a surface comes back from JSON, and its draws are the same to the bit", () => {
    const { model, place } = withSurface(8, 0.0158);
    const back = restore(JSON.parse(JSON.stringify(store(model))) as ReturnType<typeof store>);
    const [here] = blockRunner(model, [place])(5, 0, 1).values;
    const [there] = blockRunner(back, [back.tape.find("place")!])(5, 0, 1).values;
    expect([...there!]).toEqual([...here!]);
  });
});

describe("a shift of a mean", () => {
  /** exp(x), x rectangular about 0 with u = 0.5: its mean is sinh(h)/h, h = √3·u. */
  function curved() {
    const model = new Model();
    const block = { key: "x", symbol: "x", label: "x", type: "B" as const, unit: ONE, value: 0, u: 0.5 };
    const x = model.estimate({ ...block, distribution: "rectangular" });
    const h = Math.sqrt(3) * 0.5;
    const value = Math.sinh(h) / h - 1;
    const shift = model.meanShift({ key: "shift", symbol: "Δ", label: "shift", unit: ONE, value });
    return { model, result: x.exponential().plus(shift), mean: 1 + value };
  }

  it("MC-18: it stands in the value, and Monte Carlo leaves it out: both means are the same", () => {
    const { model, result, mean } = curved();
    expect(result.value).toBe(mean);
    const [found] = monteCarlo(model, [result], { seed: 1, trials: 200_000 }).results;
    expect(Math.abs(found!.mean! - mean)).toBeLessThan((4 * found!.u!) / Math.sqrt(200_000));
  });

  it("STORE-6: it comes back from JSON as such", () => {
    const { model, result } = curved();
    const stored = JSON.parse(JSON.stringify(store(model))) as ReturnType<typeof store>;
    const back = restore(stored);
    expect([...back.meanShifts]).toEqual([...model.meanShifts]);
    expect(JSON.stringify(store(back))).toBe(JSON.stringify(stored));
    const [here] = blockRunner(model, [result])(5, 0, 1).values;
    const node = back.tape.find("shift")!;
    expect(back.constants.has(node.index)).toBe(true);
    expect(here!.length).toBeGreaterThan(0);
  });
});
