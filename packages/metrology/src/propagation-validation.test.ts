import { describe, expect, it } from "vitest";
import { validatePropagation } from "./propagation-validation.ts";

const LINEAR = { value: 10, u: 0.25, U: 0.5 };

describe("the law of propagation against Monte Carlo", () => {
  it("MC-14: it is borne out where neither end is off by more than the tolerance", () => {
    // u 0.25: δ = 0.005
    expect(validatePropagation(LINEAR, { symmetric: { low: 9.496, high: 10.504 } })).toMatchObject({
      tolerance: 0.005,
      agrees: true,
    });
    const { low, high } = validatePropagation(LINEAR, { symmetric: { low: 9.496, high: 10.503 } })!;
    expect(low).toBeCloseTo(0.004, 12);
    expect(high).toBeCloseTo(0.003, 12);
  });

  it("MC-14: one end that is off refutes it", () => {
    expect(validatePropagation(LINEAR, { symmetric: { low: 9.494, high: 10.5 } })!.agrees).toBe(false);
    expect(validatePropagation(LINEAR, { symmetric: { low: 9.506, high: 10.5 } })!.agrees).toBe(false);
    expect(validatePropagation(LINEAR, { symmetric: { low: 9.5, high: 10.506 } })!.agrees).toBe(false);
    expect(validatePropagation(LINEAR, { symmetric: { low: 9.5, high: 10.494 } })!.agrees).toBe(false);
  });

  it("MC-14: to one digit the tolerance is ten times as wide", () => {
    // u 0.25 rounds to 0.3: δ = 0.05
    expect(validatePropagation(LINEAR, { symmetric: { low: 9.46, high: 10.5 } }, 1)).toMatchObject({
      tolerance: 0.05,
      agrees: true,
    });
  });

  it("MC-14: what is unknown is neither borne out nor refuted", () => {
    expect(validatePropagation(LINEAR, { symmetric: null })).toBeNull();
    expect(validatePropagation({ ...LINEAR, U: Number.NaN }, { symmetric: { low: 9.5, high: 10.5 } })).toBeNull();
  });
});
