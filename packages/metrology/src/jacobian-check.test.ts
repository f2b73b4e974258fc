import { describe, expect, it } from "vitest";
import { type DifferentiatedModel, jacobianDisagreement } from "./jacobian-check.ts";
import { erf, exp } from "./special.ts";

const PLACES = Array.from({ length: 25 }, (_, i) => i);

/** A step of the given width at x0 on a background: the shape of a field's edge. */
const edge = (width: number, slopeFactor: number): DifferentiatedModel => ({
  values: ([x0, height]) => PLACES.map((x) => 0.5 * height! * (1 + erf((x - x0!) / width))),
  jacobian: ([x0, height]) =>
    PLACES.map((x) => {
      const z = (x - x0!) / width;
      return [(-slopeFactor * height! * exp(-z * z)) / (width * Math.sqrt(3.141592653589793)), 0.5 * (1 + erf(z))];
    }),
});

describe("comparison of derivatives with differences", () => {
  it("FIT-13: derivatives of the values pass, steep or shallow", () => {
    for (const width of [0.3, 2, 500]) expect(jacobianDisagreement(edge(width, 1), [12.2, 40])).toBeNull();
  });

  it("FIT-13: a derivative that is wrong by one per cent, or by its sign, is found by its parameter", () => {
    expect(jacobianDisagreement(edge(2, 1.01), [12.2, 40])).toBe(0);
    expect(jacobianDisagreement(edge(2, -1), [12.2, 40])).toBe(0);
  });

  it("FIT-13: the second parameter's derivative is found where the first is right", () => {
    const model: DifferentiatedModel = {
      values: ([a, b]) => PLACES.map((x) => a! + b! * x),
      jacobian: () => PLACES.map((x) => [1, 2 * x]),
    };
    expect(jacobianDisagreement(model, [1, 1])).toBe(1);
  });

  it("FIT-13: a parameter that matters little beside the rest raises no false alarm", () => {
    // A narrow peak of a millionth of the background: its centre moves the values a million times less than they are.
    const model: DifferentiatedModel = {
      values: ([centre]) => PLACES.map((x) => 1 + 1e-6 * exp(-(x - centre!) * (x - centre!))),
      jacobian: ([centre]) => PLACES.map((x) => [2e-6 * (x - centre!) * exp(-(x - centre!) * (x - centre!))]),
    };
    expect(jacobianDisagreement(model, [12.3])).toBeNull();
  });

  it("FIT-13: where nothing can be compared nothing is claimed", () => {
    const idle: DifferentiatedModel = { values: () => [1, 2], jacobian: () => [[0], [0]] };
    expect(jacobianDisagreement(idle, [3])).toBeNull();
    const zero: DifferentiatedModel = { values: ([a]) => [a!, a!], jacobian: () => [[1], [1]] };
    expect(jacobianDisagreement(zero, [0])).toBeNull();
    const brittle: DifferentiatedModel = {
      values: ([a]) => [a === 1 ? 1 : Number.NaN],
      jacobian: () => [[1]],
    };
    expect(jacobianDisagreement(brittle, [1])).toBeNull();
  });
});
