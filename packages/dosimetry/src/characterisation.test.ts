import { covarianceOf, propagate } from "@alcedo-dosimetry/metrology";
import { describe, expect, it } from "vitest";
import { addCharacterisation, type KnownCharacterisation } from "./characterisation.ts";
import { correctedSignal } from "./corrected-signal.ts";
import { exactChain } from "./testing/made-up-series.ts";

/** The exact set's stem ratio and coefficient (docs/checks.md, Light, C), with an invented covariance. */
const EXACT: KnownCharacterisation = {
  weights: [0.75],
  coefficient: 0.258065,
  covariance: [
    [4e-6, -8e-7],
    [-8e-7, 1e-6],
  ],
  dof: 9,
  verifiedStemLoad: 6.6,
};

describe("a characterisation of another day", () => {
  it("CAL-5: is one block: values, covariance and degrees of freedom are those that were stored", () => {
    const chain = exactChain();
    const { stemRatio, coefficient, verifiedStemLoad } = addCharacterisation(chain, EXACT);
    expect([stemRatio!.value, coefficient!.value, verifiedStemLoad!.value]).toEqual([0.75, 0.258065, 6.6]);
    expect([...covarianceOf(chain.model, [stemRatio!, coefficient!])]).toEqual(EXACT.covariance.flat());
    expect(propagate(chain.model, stemRatio!)).toMatchObject({ u: 0.002, dof: 9 });
    expect([stemRatio, coefficient].map((node) => node!.unit.symbol)).toEqual(["1", "Gy/nC"]);
  });

  it("CAL-5: a dose by it has the uncertainty of both, with their correlation", () => {
    const chain = exactChain();
    const added = addCharacterisation(chain, EXACT);
    const literal = (value: number) => chain.model.tape.literal(value, chain.signalUnit);
    const signal = correctedSignal(added, [literal(3.27), literal(1.26)]);
    const dose = signal.times(added.coefficient!);
    expect(dose.value).toBeCloseTo(0.6, 5); // the exact set's small field
    // ∂D/∂ρ = −N_D·q₂, ∂D/∂N_D = S (by hand)
    const [a, b] = [-0.258065 * 1.26, 3.27 - 0.75 * 1.26];
    expect(propagate(chain.model, dose).u).toBeCloseTo(Math.sqrt(a * a * 4e-6 + b * b * 1e-6 + 2 * a * b * -8e-7), 12);
  });

  it("CAL-5: of three channels has weights, and may lack coefficient, degrees of freedom and verified range", () => {
    const two = exactChain();
    const chain = { ...two, channels: ["blue", "green", "red"] };
    const covariance = [
      [1e-6, 0],
      [0, 1e-6],
    ];
    const { stemRatio, weights, coefficient, verifiedStemLoad } = addCharacterisation(chain, {
      weights: [-0.6, -0.1],
      covariance,
    });
    expect(weights.map(({ value }) => value)).toEqual([-0.6, -0.1]);
    expect([stemRatio, coefficient, verifiedStemLoad]).toEqual([undefined, undefined, undefined]);
    expect(propagate(chain.model, weights[0]!).dof).toBe(Number.POSITIVE_INFINITY);
  });

  it("CAL-5: a covariance that does not fit is refused", () => {
    expect(() => addCharacterisation(exactChain(), { ...EXACT, covariance: [[1e-6]] })).toThrow(/covariance of 2 × 2/);
  });
});
