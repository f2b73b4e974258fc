import { describe, expect, it } from "vitest";
import { type InputBlock, type Shift, single } from "./elementary-input.ts";
import { sensitivities, uncertainty } from "./propagation-by-differences.ts";
import { columnMeans } from "./scatter.ts";

describe("propagation by differences", () => {
  it("gives GUM H.1 from its own inputs (checks.md: 31.7106 nm, C)", () => {
    const inputs: [string, number, number][] = [
      ["ls", 50_000_623, 25],
      ["d", 215, 9.7],
      ["αs", 11.5e-6, 1.2e-6],
      ["θ", -0.1, 0.41],
      ["δα", 0, 0.58e-6],
      ["δθ", 0, 0.029],
    ];
    const evaluate = (shift: Shift) => {
      const [ls, d, alpha, theta, deltaAlpha, deltaTheta] = inputs.map(([key, value]) => value + shift(key));
      return new Map([["l", ls! + d! - ls! * (deltaAlpha! * theta! + alpha! * deltaTheta!)]]);
    };
    const blocks = inputs.map(([key, , u]) => single(key, u));
    const found = sensitivities(evaluate, blocks, new Map());
    expect(found.values.get("l")).toBe(50_000_838);
    expect(uncertainty("l", found, blocks)).toBeCloseTo(31.7106, 3);
  });

  it("keeps correlations: GUM H.2, approach 1 (checks.md, C)", () => {
    const readings = [
      [5.007, 19.663e-3, 1.0456],
      [4.994, 19.639e-3, 1.0438],
      [5.005, 19.64e-3, 1.0468],
      [4.99, 19.685e-3, 1.0428],
      [4.999, 19.678e-3, 1.0433],
    ];
    const mean = columnMeans(readings);
    const covariance = mean.map((_, i) =>
      mean.map((__, j) => readings.reduce((sum, row) => sum + (row[i]! - mean[i]!) * (row[j]! - mean[j]!), 0) / 20),
    );
    const block: InputBlock = { keys: ["V", "I", "φ"], covariance };
    const evaluate = (shift: Shift) => {
      const [V, I, phi] = block.keys.map((key, i) => mean[i]! + shift(key));
      return new Map([
        ["R", (V! / I!) * Math.cos(phi!)],
        ["X", (V! / I!) * Math.sin(phi!)],
        ["Z", V! / I!],
      ]);
    };
    const found = sensitivities(evaluate, [block], new Map());
    for (const [id, value, u] of [
      ["R", 127.73217, 0.0710714],
      ["X", 219.84651, 0.2955817],
      ["Z", 254.2597, 0.2363361],
    ] as const) {
      expect(found.values.get(id)).toBeCloseTo(value, 5);
      expect(uncertainty(id, found, [block])).toBeCloseTo(u, 6);
    }
  });

  it("tries inputs whose uncertainty comes later, and leaves those without any alone", () => {
    const asked = new Set<string>();
    const evaluate = (shift: Shift) => {
      for (const key of ["early", "later", "none"]) if (shift(key) !== 0) asked.add(key);
      return new Map([["sum", 2 * shift("early") + 3 * shift("later")]]);
    };
    const early = single("early", 0.5);
    const found = sensitivities(evaluate, [early, single("none", 0)], new Map([["later", 0.01]]));
    expect([...asked].sort()).toEqual(["early", "later"]);
    expect(uncertainty("sum", found, [early])).toBeCloseTo(1, 12);
    expect(uncertainty("sum", found, [early, single("later", 1)])).toBeCloseTo(Math.sqrt(10), 12);
  });

  it("has no uncertainty to give to a number that nothing moves", () => {
    const found = sensitivities(() => new Map([["fixed", 1]]), [single("input", 1)], new Map());
    expect(uncertainty("fixed", found, [single("input", 1)])).toBe(0);
    expect(uncertainty("unknown", found, [single("input", 1)])).toBe(0);
  });
});
