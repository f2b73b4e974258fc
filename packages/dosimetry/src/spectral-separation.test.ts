import { evaluateAt, gradient, Model, ONE, propagate, type Scalar, Tape, Unit } from "@alcedo-dosimetry/metrology";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { DependentSpectraError, separateSources, sourceWeights } from "./spectral-separation.ts";

const SIGNAL = Unit.parse("nC");
const PER_DOSE = Unit.parse("nC/Gy");
const GRAY = Unit.parse("Gy");

/** A response matrix on a tape: every source in the same unit. */
function matrix(tape: Tape, rows: readonly (readonly number[])[], unit = PER_DOSE): Scalar[][] {
  return rows.map((row) => row.map((value) => tape.input(value, unit)));
}

function strengths(rows: readonly (readonly number[])[], signals: readonly number[]): number[] {
  const tape = new Tape();
  const nodes = signals.map((value) => tape.input(value, SIGNAL));
  return separateSources(matrix(tape, rows), nodes).map(({ value }) => value);
}

function weights(rows: readonly (readonly number[])[], source: number): number[] {
  return sourceWeights(matrix(new Tape(), rows), source).map(({ value }) => value);
}

/** Scintillation and stem light in three channels. */
const THREE = [
  [1, 0.2],
  [0.5, 0.5],
  [0.1, 0.9],
];

describe("strengths of light sources", () => {
  it("LIGHT-2: three channels, two sources: [2.2, 1.5, 1.1] are [2, 1] (computed, C)", () => {
    const [scintillation, stem] = strengths(THREE, [2.2, 1.5, 1.1]);
    expect(scintillation).toBeCloseTo(2, 12);
    expect(stem).toBeCloseTo(1, 12);
  });

  it("LIGHT-2: where the signals do not fit, it is the least-squares solution (4/3, 7/3), exact in rationals", () => {
    const rows = [
      [1, 0],
      [0, 1],
      [1, 1],
    ];
    const [first, second] = strengths(rows, [1, 2, 4]);
    expect(first).toBeCloseTo(4 / 3, 14);
    expect(second).toBeCloseTo(7 / 3, 14);
  });

  it("LIGHT-2: two channels seen twice at dose 1 give the weights 1.9047619 and −1.42857143 (computed, C)", () => {
    // The same equations the other way round: conditions for channels, channels for sources, dose for signal.
    const [a1, a2] = strengths(
      [
        [1.2, 0.9],
        [1.5, 1.3],
      ],
      [1, 1],
    );
    expect(a1).toBeCloseTo(1.9047619, 7);
    expect(a2).toBeCloseTo(-1.42857143, 8);
    // Stem ratio 0.75 (computed, C).
    expect(-a2! / a1!).toBeCloseTo(0.75, 12);
  });

  it("LIGHT-2: strengths are given back for any spectra that differ", () => {
    const share = fc.double({ min: 0.05, max: 1, noNaN: true });
    const strength = fc.double({ min: -5, max: 5, noNaN: true }); // a source may come out negative by noise
    fc.assert(
      fc.property(fc.tuple(share, share, share, share), fc.tuple(strength, strength, strength), (r, x) => {
        // The third source is alone in the third channel and the first two lean apart: never close to dependent.
        const rows = [
          [1 + r[0], 0.2 * r[1], r[2]],
          [0.2 * r[3], 1 + r[1], r[0]],
          [0, 0, 1 + r[2]],
          [r[1], r[2], r[3]],
        ];
        const signals = rows.map((row) => row.reduce((total, part, s) => total + part * x[s]!, 0));
        strengths(rows, signals).forEach((found, s) => {
          expect(found).toBeCloseTo(x[s]!, 10);
        });
      }),
    );
  });

  it("LIGHT-2: units follow: signal over response is dose", () => {
    const tape = new Tape();
    const signals = [2.2, 1.5, 1.1].map((value) => tape.input(value, SIGNAL));
    for (const strength of separateSources(matrix(tape, THREE), signals)) expect(strength.unit).toBe(GRAY);
    // Sources may differ in unit: stem light per length of fibre, say.
    const perLength = Unit.parse("nC/mm");
    const mixed = THREE.map(([s, c]) => [tape.input(s!, PER_DOSE), tape.input(c!, perLength)]);
    expect(separateSources(mixed, signals).map(({ unit }) => unit.symbol)).toEqual(["Gy", "mm"]);
  });
});

describe("weights of the channels", () => {
  it("LIGHT-1: they answer one to their own source and nothing to the others", () => {
    for (const source of [0, 1]) {
      const a = weights(THREE, source);
      const answer = (s: number) => a.reduce((total, weight, c) => total + weight * THREE[c]![s]!, 0);
      expect(answer(source)).toBeCloseTo(1, 14);
      expect(answer(1 - source)).toBeCloseTo(0, 14);
    }
  });

  it("LIGHT-1: with two channels they are 1 and −ρ up to a factor, ρ the stem light's channel ratio", () => {
    const [a1, a2] = weights(
      [
        [2, 0.6],
        [0.5, 0.8],
      ],
      0,
    );
    expect(a2! / a1!).toBeCloseTo(-0.75, 14);
  });

  it("LIGHT-1: of all weights that do so they are the smallest: the least noise from channels alike", () => {
    // (RᵀR)⁻¹Rᵀ in exact rationals: RᵀR = [[1.26, 0.54], [0.54, 1.10]], determinant 1.0944.
    const a = weights(THREE, 0);
    const exact = THREE.map(([s, c]) => (1.1 * s! - 0.54 * c!) / 1.0944);
    a.forEach((weight, c) => {
      expect(weight).toBeCloseTo(exact[c]!, 14);
    });
  });

  it("LIGHT-1: the order of the other sources does not matter", () => {
    const rows = [
      [1, 0.2, 0.4],
      [0.5, 0.5, 0.1],
      [0.1, 0.9, 0.3],
      [0.3, 0.1, 0.8],
    ];
    const exchanged = rows.map(([s, c, f]) => [f!, c!, s!]);
    const first = weights(rows, 0);
    weights(exchanged, 2).forEach((weight, c) => {
      expect(weight).toBeCloseTo(first[c]!, 13);
    });
  });
});

describe("what cannot be separated", () => {
  it("LIGHT-3: a source that mixes two others is refused by its number", () => {
    const rows = THREE.map(([s, c]) => [s!, c!, 0.3 * s! + 0.6 * c!]);
    expect(() => strengths(rows, [1, 1, 1])).toThrow(DependentSpectraError);
    expect(() => strengths(rows, [1, 1, 1])).toThrow("the spectrum of source 2 is a mixture of those before it");
  });

  it("LIGHT-3: a source without light is refused", () => {
    expect(() =>
      strengths(
        THREE.map(([s]) => [s!, 0]),
        [1, 1, 1],
      ),
    ).toThrow("source 1 gives no light in any channel");
  });

  it("LIGHT-3: a response that is no number is refused by channel and source, not passed on", () => {
    for (const bad of [Number.NaN, Infinity])
      expect(() =>
        strengths(
          [
            [1, 0.2],
            [0.5, bad],
            [0.1, 0.9],
          ],
          [1, 1, 1],
        ),
      ).toThrow(`the response of channel 1 to source 1 is ${bad}`);
  });

  it("LIGHT-3: fewer channels than sources, ragged rows, missing signals and unknown sources are refused", () => {
    expect(() => strengths([[1, 0.2]], [1])).toThrow("1 channels cannot tell 2 sources apart");
    expect(() => strengths([[1, 0.2], [1]], [1, 1])).toThrow("channel 1 has 1 responses, but channel 0 has 2");
    expect(() => strengths(THREE, [1, 1])).toThrow("3 channels need as many signals, but there are 2");
    expect(() => strengths([], [])).toThrow("no channel or no source");
    expect(() => weights([], 0)).toThrow("no channel or no source");
    for (const source of [2, -1, 0.5])
      expect(() => weights(THREE, source)).toThrow(`source ${source} is not among the 2`);
  });

  it("LIGHT-3: channels in unlike units are refused where the sum is written", () => {
    const tape = new Tape();
    const rows = [[tape.input(1, PER_DOSE)], [tape.input(1, Unit.parse("pC/Gy"))]];
    expect(() => sourceWeights(rows, 0)).toThrow(TypeError);
  });
});

describe("uncertain spectra", () => {
  /** THREE with every response an estimate of standard uncertainty 0.01, and signals that fit but roughly. */
  function uncertain() {
    const model = new Model();
    const response = THREE.map((row, c) =>
      row.map((value, s) =>
        model.estimate({
          key: `response/${c}/${s}`,
          type: "A",
          symbol: `R_${c}${s}`,
          label: `response of channel ${c} to source ${s}`,
          unit: PER_DOSE,
          value,
          u: 0.01,
        }),
      ),
    );
    const signals = [2.2, 1.6, 1.1].map((value, c) =>
      model.constant({ key: `m/${c}`, symbol: `m_${c}`, label: `signal ${c}`, unit: SIGNAL, value }),
    );
    return { model, response, signals, strength: separateSources(response, signals)[0]! };
  }

  it("LIGHT-4: the derivatives with respect to every response and signal are those of differences", () => {
    const { model, response, signals, strength } = uncertain();
    const adjoints = gradient(model, strength.index);
    const h = 1e-5;
    for (const leaf of [...response.flat(), ...signals]) {
      const at = (value: number) => evaluateAt(model, new Map([[leaf.index, value]])).values[strength.index]!;
      expect(adjoints[leaf.index]).toBeCloseTo((at(leaf.value + h) - at(leaf.value - h)) / (2 * h), 8);
    }
  });

  it("LIGHT-4: so the dose carries the uncertainty of the spectra", () => {
    const { model, response, strength } = uncertain();
    const adjoints = gradient(model, strength.index);
    const sum = response.flat().reduce((total, leaf) => total + (0.01 * adjoints[leaf.index]!) ** 2, 0);
    expect(sum).toBeGreaterThan(1e-6);
    expect(propagate(model, strength).u).toBeCloseTo(Math.sqrt(sum), 14);
  });

  it("LIGHT-4: dimensionless responses give weights without unit", () => {
    for (const weight of sourceWeights(matrix(new Tape(), THREE, ONE), 0)) expect(weight.unit).toBe(ONE);
  });
});
