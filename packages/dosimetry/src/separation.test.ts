import {
  covarianceOf,
  fUpper,
  gradient,
  IndeterminateFitError,
  propagate,
  type Scalar,
  type StructuralState,
} from "@alcedo-dosimetry/metrology";
import { describe, expect, it } from "vitest";
import { addBackground } from "./background.ts";
import type { Chain } from "./chain.ts";
import { correctedSignal } from "./corrected-signal.ts";
import { addNetSignals } from "./net-signal.ts";
import { conditionsOf } from "./readings.ts";
import { addSeparation, fluctuationDivisor, type SeparationReading } from "./separation.ts";
import { EXACT, FIELD_SERIES } from "./testing/exact-set.ts";
import { chainOf, exactChain, type Row, repeated, seriesOf } from "./testing/made-up-series.ts";

type SeparationRow = Row<SeparationReading>;
type More = Partial<SeparationReading>;

/** A fit condition of the dose group 100x100. */
const fit = (condition: string, signals: readonly number[], more: More = {}): SeparationRow => [
  condition,
  signals,
  { doseGroup: "100x100", role: "fit", ...more },
];
const verify = (condition: string, signals: readonly number[], more: More = {}): SeparationRow =>
  fit(condition, signals, { role: "verify", ...more });

/** Separation of the rows in a chain of their own; equality of dose known to 0.1 %. */
function separate(rows: readonly SeparationRow[], chain: Chain = exactChain(), doseEquality_u = 0.001) {
  const separation = addSeparation(chain, seriesOf<SeparationReading>("separation", rows), doseEquality_u);
  const uOf = (node: Scalar) => propagate(chain.model, node).u;
  return { ...separation, chain, uOf, rho: separation.stemRatio?.value ?? Number.NaN };
}

const twice = (rows: readonly SeparationRow[]) => rows.flatMap((row) => repeated(2, row));
const LITTLE = fit("little", EXACT.little);
const MUCH = fit("much", EXACT.much);

describe("two conditions of equal dose", () => {
  it("SEP-1: the exact set gives a stem ratio of 0.75 (docs/checks.md, Light, C)", () => {
    const { rho, stemRatio, dof, chi2, p } = separate([LITTLE, MUCH]);
    expect(rho).toBeCloseTo(0.75, 13);
    expect({ dof, p }).toEqual({ dof: 0, p: undefined });
    expect(chi2).toBeLessThan(1e-20);
    expect(stemRatio!.unit.symbol).toBe("1");
    expect(stemRatio!.tape.names.get(stemRatio!.index)?.key).toBe("separation.stem-ratio");
  });

  it("SEP-1: it is the ratio of the channels' differences, whatever the weights", () => {
    const expected = (17.31 - 6.42) / (17.77 - 3.61);
    for (const doseEquality of [0, 1e-4, 0.02])
      for (const digit of [1e-6, 0.1])
        for (const repeats of [1, 4]) {
          const rows = [fit("little", [6.42, 3.61]), fit("much", [17.31, 17.77])].flatMap((row, i) =>
            Array.from({ length: i === 0 ? 1 : repeats }, (_, k): SeparationRow => {
              const wobble = 0.05 * (k - (repeats - 1) / 2);
              const scattered = i === 0 ? row[1] : [row[1][0]! + wobble, row[1][1]! - wobble];
              return [row[0], scattered, { ...row[2], digits: [digit, digit] }];
            }),
          );
          expect(separate(rows, exactChain(), doseEquality).rho).toBeCloseTo(expected, 11);
        }
  });

  it("SEP-1: the mistakes of docs/checks.md (Light, C) give the stem ratios listed there", () => {
    const wrong = (much: readonly number[]) => separate([LITTLE, fit("much", much)]).rho;
    expect(wrong([17 * 1.01, 17.5 * 1.01])).toBeCloseTo(0.7527, 4); // output +1 % with much fibre, not corrected
    expect(wrong([17 * 1.03, 17.5 * 1.03])).toBeCloseTo(0.758, 4); // much fibre +3 % in both lights
    expect(wrong([17 * 1.05, 17.5 * 1.05])).toBeCloseTo(0.763, 4); // + 5 % (docs/job.md, test set A, C)
    expect(wrong([17, 17.5 * 0.95])).toBeCloseTo(0.8, 4); // second channel −5 % with much fibre
    expect(wrong([17, 17.5 * 0.99])).toBeCloseTo(0.7595, 4); // −1 % (docs/job.md, C)
  });

  it("SEP-1: channels swapped give 1.3333 and a negative corrected signal (docs/checks.md, Light, C)", () => {
    const { rho, conditions } = separate([fit("little", [3.5, 6.5]), fit("much", [17.5, 17])]);
    expect(rho).toBeCloseTo(1.3333, 4);
    // −19.35 cGy/nC (docs/job.md, C) would be the coefficient
    expect(100 / conditions[0]!.corrected.value).toBeCloseTo(-19.35, 2);
  });

  it("SEP-1: a change of output drops out where the monitor follows it", () => {
    const rows = [fit("little", [6.5, 3.5], { monitor: 10 }), fit("much", [17 * 1.01, 17.5 * 1.01], { monitor: 10.1 })];
    expect(separate(rows).rho).toBeCloseTo(0.75, 12);
  });

  it("SEP-9: each condition carries its corrected signal and its stem load", () => {
    const { conditions } = separate([LITTLE, MUCH, verify("half", EXACT.half)]);
    expect(conditions.map(({ name, role, doseGroup }) => [name, role, doseGroup])).toEqual([
      ["little", "fit", "100x100"],
      ["much", "fit", "100x100"],
      ["half", "verify", "100x100"],
    ]);
    for (const { corrected, expected } of conditions) {
      expect(corrected.value).toBeCloseTo(3.875, 12);
      expect(expected!.value).toBeCloseTo(3.875, 12);
    }
    expect(conditions.map(({ load }) => load.value)[1]).toBeCloseTo(17.5 / 3.875, 11);
  });

  it("SEP-8: the contrast is (q2/I) with most over that with least fibre", () => {
    expect(separate([LITTLE, MUCH, verify("long", EXACT.long)]).contrast.value).toBeCloseTo(17.5 / 3.5, 12);
    expect(separate([MUCH, LITTLE]).contrast.value).toBeCloseTo(5, 12);
  });
});

describe("more conditions and dose groups", () => {
  /** Readings of 5, 20 and 40 cm at one dose and of 10 and 30 cm at another, each off its line by a little. */
  const many: SeparationRow[] = [
    fit("a5", [6.5, 3.5]),
    fit("a20", [11.02, 9.5]),
    fit("a40", [17, 17.52]),
    fit("b10", [5.62, 3.85], { doseGroup: "small" }),
    fit("b30", [10.41, 10.25], { doseGroup: "small" }),
  ];
  const scattered = (rows: readonly SeparationRow[]) =>
    rows.flatMap(([condition, [q1, q2], more]) =>
      [-1, 0, 1].map((d, i): SeparationRow => {
        // ±0.1 % common to both channels, ±0.03 % of each channel's own
        const own = [0.0003, -0.0006, 0.0003][i]!;
        return [condition, [q1! * (1 + 0.001 * d + own), q2! * (1 + 0.001 * d - own)], more];
      }),
    );

  it("SEP-2: it minimises Σ(aᵀq − I)²/(aᵀVa + (I·u_e)²): no neighbour has a smaller sum", () => {
    const { rho, conditions, chi2, dof } = separate(scattered(many));
    expect(dof).toBe(5 - 2 - 1);
    const sumOfSquares = (ratio: number, intercepts: Record<string, number>) =>
      conditions.reduce((total, { normalised: [q1, q2], weightCovariance: v, doseGroup }) => {
        const intercept = intercepts[doseGroup]!;
        const residual = q1!.value - ratio * q2!.value - intercept;
        const spread = 0.001 * intercept;
        return total + residual ** 2 / (v[0]! - 2 * ratio * v[1]! + ratio * ratio * v[3]! + spread * spread);
      }, 0);
    const found = Object.fromEntries(conditions.map(({ doseGroup, expected }) => [doseGroup, expected!.value]));
    const least = sumOfSquares(rho, found);
    expect(chi2).toBeCloseTo(least, 10);
    for (const step of [1e-4, -1e-4]) {
      expect(sumOfSquares(rho + step, found)).toBeGreaterThan(least);
      for (const group of ["100x100", "small"])
        expect(sumOfSquares(rho, { ...found, [group]: found[group]! * (1 + step) })).toBeGreaterThan(least);
    }
    // the slope by differences vanishes as well: it is a minimum in every direction
    const slope = (sumOfSquares(rho + 1e-6, found) - sumOfSquares(rho - 1e-6, found)) / 2e-6;
    const curvature = (sumOfSquares(rho + 1e-4, found) + sumOfSquares(rho - 1e-4, found) - 2 * least) / 1e-8;
    expect(Math.abs(slope / curvature)).toBeLessThan(1e-7);
  });

  it("SEP-2: conditions that lie on their lines exactly give the exact weights, with as many groups as one likes", () => {
    const exact = (dose: number, fibre: number): [number, number] => [
      dose * (0.05 + 0.003 * fibre) * 100,
      dose * (0.015 + 0.004 * fibre) * 100,
    ];
    const rows = [1, 0.6, 0.45].flatMap((dose, g) =>
      [5, 17, 40].map((fibre) => fit(`g${g}-${fibre}`, exact(dose, fibre), { doseGroup: `g${g}` })),
    );
    const { rho, conditions, dof, chi2 } = separate(twice(rows));
    expect(rho).toBeCloseTo(0.75, 11);
    expect(dof).toBe(9 - 3 - 1);
    expect(chi2).toBeLessThan(1e-12);
    expect(conditions.at(-1)!.expected!.value).toBeCloseTo(0.45 * 3.875, 10);
  });

  it("SEP-2: a group's lone condition of unknown dose changes nothing", () => {
    const with3 = separate(scattered(many.slice(0, 3)));
    const withLone = separate(scattered([...many.slice(0, 3), fit("lone", [2.2, 1.7], { doseGroup: "alone" })]));
    expect(withLone.rho).toBeCloseTo(with3.rho, 10);
    expect(withLone.dof).toBe(with3.dof);
    expect(withLone.chi2).toBeCloseTo(with3.chi2, 8);
  });

  it("SEP-5: χ²/dof is held against F with the pooled degrees of freedom of the repeats", () => {
    const { chi2, dof, p, net } = separate(scattered(many));
    expect(net.dof).toBe(10);
    expect(p).toBe(fUpper(chi2 / dof, 2, 10));
    expect(separate(many).p).toBeUndefined(); // nobody knows the scatter
  });

  it("SEP-5: a condition that does not belong there is found out", () => {
    const clean = separate(scattered(many.slice(0, 3)));
    expect(clean.p).toBeGreaterThan(0.01);
    const off = separate(scattered([many[0]!, fit("a20", [11.35, 9.5]), many[2]!]));
    expect(off.p).toBeLessThan(0.01);
    const { residuals } = off.state satisfies StructuralState;
    expect(residuals.length).toBe(3);
  });

  it("SEP-2: an order of rows is no matter", () => {
    const one = separate(scattered(many));
    const other = separate(scattered([...many].reverse()));
    expect(other.rho).toBeCloseTo(one.rho, 12);
    expect(other.uOf(other.stemRatio!)).toBeCloseTo(one.uOf(one.stemRatio!), 12);
  });
});

describe("known doses", () => {
  it("SEP-3: groups with known doses give the coefficient as well: 0.258065 Gy/nC (docs/checks.md, Light, C)", () => {
    const { coefficient, rho, dof } = separate([
      fit("little", EXACT.little, { dose_Gy: 1, dose_u_Gy: 0.007 }),
      fit("much", EXACT.much, { dose_Gy: 1, dose_u_Gy: 0.007 }),
    ]);
    expect(rho).toBeCloseTo(0.75, 12);
    expect(coefficient!.value).toBeCloseTo(0.258065, 6);
    expect(coefficient!.value).toBeCloseTo(1 / 3.875, 12);
    expect(coefficient!.unit.symbol).toBe("Gy/nC");
    expect(dof).toBe(0);
  });

  it("SEP-3: two field sizes of different known dose take the place of two lengths of fibre", () => {
    // (q1, q2) = (1.20, 0.90) at dose 1 and (1.50, 1.30) at dose 1 → weights 1.9047619, −1.42857143, ρ 0.75 (docs/checks.md, C)
    const { rho, coefficient } = separate([
      fit("large", [1.2, 0.9], { doseGroup: "a", dose_Gy: 1 }),
      fit("small", [1.5, 1.3], { doseGroup: "b", dose_Gy: 1 }),
    ]);
    expect(rho).toBeCloseTo(0.75, 12);
    expect(coefficient!.value).toBeCloseTo(1.9047619, 7);
    expect(-rho * coefficient!.value).toBeCloseTo(-1.42857143, 7);
    // and at doses that differ: [q1 q2; q1 q2]·[a b] = [D1 D2], solved by Cramer's rule
    const [q1, q2, r1, r2, d1, d2] = [6.5, 3.5, 3.27, 1.26, 1, 0.6];
    const determinant = q1 * r2 - q2 * r1;
    const [a, b] = [(d1 * r2 - d2 * q2) / determinant, (q1 * d2 - r1 * d1) / determinant];
    const other = separate([
      fit("large", [q1, q2], { doseGroup: "a", dose_Gy: d1 }),
      fit("small", [r1, r2], { doseGroup: "b", dose_Gy: d2 }),
    ]);
    expect(other.coefficient!.value).toBeCloseTo(a, 11);
    expect(other.rho).toBeCloseTo(-b / a, 11);
  });

  it("SEP-3: solved with the true doses, an unequal dose does no harm (docs/job.md, test set A, C)", () => {
    for (const more of [1.01, 1.03, 1.05]) {
      const { rho, coefficient } = separate([
        fit("little", EXACT.little, { dose_Gy: 1 }),
        fit("much", [17 * more, 17.5 * more], { dose_Gy: more }),
      ]);
      expect(rho).toBeCloseTo(0.75, 11);
      expect(coefficient!.value).toBeCloseTo(0.258065, 6);
    }
  });

  it("SEP-3: one input per group carries its own error of dose, in full for the coefficient", () => {
    const known = { dose_Gy: 1, dose_u_Gy: 0.01 };
    const rows = [...repeated(3, fit("little", EXACT.little, known)), ...repeated(3, fit("much", EXACT.much, known))];
    const { chain, coefficient, uOf, stemRatio } = separate(rows, exactChain(), 0);
    expect(uOf(coefficient!) / coefficient!.value).toBeCloseTo(0.01, 6);
    expect(chain.model.tape.find("separation/group 100x100/dose")).toBeDefined();
    expect(uOf(stemRatio!)).toBeLessThan(1e-5); // common to both conditions, it does not touch the ratio
  });

  it("SEP-5: with a known dose there is one intercept for all such groups", () => {
    const rows = [
      fit("a", [6.5, 3.5], { dose_Gy: 1, doseGroup: "a" }),
      fit("b", [3.27, 1.26], { dose_Gy: 0.6, doseGroup: "b" }),
      fit("c", [17, 17.5], { dose_Gy: 1, doseGroup: "a" }),
      fit("d", [5.5, 4.75], { doseGroup: "free" }),
      fit("e", [8.5, 8.75], { doseGroup: "free" }),
    ];
    const { dof, rho, coefficient } = separate(rows);
    expect(dof).toBe(5 - 1 - 1 - 1); // one free group, one for the known doses, one weight
    expect(rho).toBeCloseTo(0.75, 8);
    expect(coefficient!.value).toBeCloseTo(1 / 3.875, 8);
  });

  it("SEP-10: a single known dose does not soften the test of the fit, as it is a matter of the coefficient alone", () => {
    const rows = (more: More) =>
      [
        fit("little", EXACT.little, more),
        fit("half", [EXACT.half[0] * 1.01, EXACT.half[1]], more),
        fit("much", EXACT.much, more),
      ].flatMap((row) => repeated(2, row));
    const [unknown, known] = [separate(rows({})), separate(rows({ dose_Gy: 1, dose_u_Gy: 0.02 }))];
    expect(known.chi2).toBeCloseTo(unknown.chi2, 6);
    expect(known.rho).toBeCloseTo(unknown.rho, 8);
    expect(known.p).toBeLessThan(0.01);
  });

  it("SEP-10: where doses differ between groups their errors do count in the weights", () => {
    const rows = (u: number) =>
      [
        fit("a", [6.5, 3.5], { dose_Gy: 1, doseGroup: "a", dose_u_Gy: u }),
        fit("b", [3.27 * 1.01, 1.26 * 1.01], { dose_Gy: 0.6, doseGroup: "b", dose_u_Gy: 0.6 * u }),
        fit("c", [17, 17.5], { dose_Gy: 1, doseGroup: "c", dose_u_Gy: u }),
      ].flatMap((row) => repeated(2, row));
    expect(separate(rows(0.0001)).p).toBeLessThan(0.01);
    expect(separate(rows(0.01)).p).toBeGreaterThan(0.05);
  });
});

describe("more channels", () => {
  /** Scintillation, and two kinds of stem light with spectra of their own. */
  const mixture = (dose: number, one: number, two: number) => [
    dose + 0.3 * one + 0.1 * two,
    0.3 * dose + one + 0.2 * two,
    0.1 * dose + 0.2 * one + two,
  ];
  const threeChannels = () => exactChain({ channels: ["blue", "green", "red"] });

  it("SEP-4: three channels take three conditions of one dose and give two weights", () => {
    const rows = [fit("a", mixture(1, 0.2, 0.1)), fit("b", mixture(1, 2, 0.4)), fit("c", mixture(1, 0.7, 1.5))];
    const { weights, stemRatio, dof, conditions } = separate(rows, threeChannels());
    expect(stemRatio).toBeUndefined();
    expect(dof).toBe(0);
    // a must be blind to both kinds of stem light: 0.3 + a2 + 0.2·a3 = 0 and 0.1 + 0.2·a2 + a3 = 0
    const [a2, a3] = [-(0.3 - 0.02) / 0.96, -(0.1 - 0.06) / 0.96];
    expect(weights[0]!.value).toBeCloseTo(a2, 12);
    expect(weights[1]!.value).toBeCloseTo(a3, 12);
    const dark = conditions.map(({ corrected }) => corrected.value);
    expect(dark[1]).toBeCloseTo(dark[0]!, 12);
    expect(weights.map(({ tape, index }) => tape.names.get(index)?.key)).toEqual([
      "separation.weight.green",
      "separation.weight.red",
    ]);
  });

  it("SEP-4: a mixture that was not in the fit comes out with its dose", () => {
    const chain = threeChannels();
    const rows = [fit("a", mixture(1, 0.2, 0.1)), fit("b", mixture(1, 2, 0.4)), fit("c", mixture(1, 0.7, 1.5))];
    const { conditions, weights } = separate(rows, chain);
    const series = seriesOf("calibration", [["x", mixture(0.43, 3, 2)]]);
    const { plain } = addNetSignals(chain, series, conditionsOf(series), { divisor: () => "none" }).conditions[0]!;
    expect(correctedSignal({ weights }, plain).value / conditions[0]!.corrected.value).toBeCloseTo(0.43, 11);
  });

  it("SEP-11: fewer independent conditions than lights are refused", () => {
    const two = [fit("a", mixture(1, 0.2, 0.1)), fit("b", mixture(1, 2, 0.4))];
    expect(() => separate(two, threeChannels())).toThrow(IndeterminateFitError);
    // a third that is a mixture of the two others is no third
    const between = mixture(1, 1.1, 0.25);
    expect(() => separate([...two, fit("c", between)], threeChannels())).toThrow(IndeterminateFitError);
  });
});

describe("what does not determine the weights", () => {
  it("SEP-11: is refused", () => {
    expect(() => separate([LITTLE])).toThrow(IndeterminateFitError);
    expect(() => separate([LITTLE, fit("again", EXACT.little)])).toThrow(IndeterminateFitError);
    expect(() => separate([LITTLE, fit("other", EXACT.much, { doseGroup: "another" })])).toThrow(IndeterminateFitError);
    expect(() => separate([verify("little", EXACT.little), verify("much", EXACT.much)])).toThrow(IndeterminateFitError);
  });
});

describe("the uncertainty of the weights", () => {
  /** Three repeats in each of three conditions with 0.3 % common and 0.02 % own scatter. */
  const rows = [fit("little", EXACT.little), fit("half", EXACT.half), fit("much", EXACT.much)].flatMap(
    ([condition, [q1, q2], more], i) =>
      [-1, 0.3, 0.7].map((d, k): SeparationRow => {
        const own = 0.0002 * [1, -1.5, 0.5][(i + k) % 3]!;
        return [condition, [q1! * (1 + 0.003 * d + own), q2! * (1 + 0.003 * d - own)], more];
      }),
  );

  it("TYPEA-2: a fluctuation common to both channels nearly cancels in the stem ratio", () => {
    const { chain, stemRatio, net, uOf } = separate(rows, exactChain(), 0);
    const kept = uOf(stemRatio!);
    // the same inputs taken as independent of each other: the squares of the sensitivities times the variances alone
    const adjoints = gradient(chain.model, stemRatio!.index);
    const independent = net.conditions.reduce((total, { normalised }) => {
      const covariance = covarianceOf(chain.model, normalised);
      return (
        total + normalised.reduce((sum, node, c) => sum + (adjoints[node.index] ?? 0) ** 2 * covariance[c * 2 + c]!, 0)
      );
    }, 0);
    expect(Math.sqrt(independent) / kept).toBeGreaterThan(3);
  });

  it("SEP-6: it is about what the fit itself says, where nothing is shared but the repeats", () => {
    const { state, uOf, stemRatio } = separate(rows);
    const parameters = 2;
    expect(uOf(stemRatio!) / Math.sqrt(state.ownCovariance[0]!)).toBeGreaterThan(0.9);
    expect(uOf(stemRatio!) / Math.sqrt(state.ownCovariance[0]!)).toBeLessThan(1.1);
    expect(state.ownCovariance.length).toBe(parameters * parameters);
  });

  it("SEP-7: equality of dose enters as an input of value one per condition", () => {
    const { chain, conditions, stemRatio } = separate(twice([LITTLE, MUCH]), exactChain(), 0.002);
    for (const { name, level } of conditions) {
      expect(level.value).toBe(1);
      const input = chain.model.tape.find(`separation/${name}/dose-equality`)!;
      expect(propagate(chain.model, input).u).toBeCloseTo(0.002, 15);
    }
    // ρ = (q1,max − I·e_max − q1,min + I·e_min)/(q2,max − q2,min): ∂ρ/∂e = ∓I/14
    const { u } = propagate(chain.model, stemRatio!);
    expect(u).toBeCloseTo((Math.SQRT2 * 0.002 * 3.875) / 14, 6);
  });

  it("SEP-6: what is shared stays shared: a background of 0.02 nC too much moves a small field by 0.3 %, not by 1 %", () => {
    // docs/physics.md 2: the exact set, each reading over 20 s, u of the background 0.001 nC/s in the first channel
    const chain = exactChain();
    const dark = seriesOf("background", [["dark", [0, 0], { duration_s: 20, digits: [0.02 * Math.sqrt(12), 1e-9] }]]);
    const withBackground: Chain = { ...chain, background: addBackground(chain, dark) };
    const known = { duration_s: 20, digits: [1e-9, 1e-9] };
    const separation = separate(
      [fit("little", EXACT.little, known), fit("much", EXACT.much, known)],
      withBackground,
      0,
    );
    const series = seriesOf("output-factors", [["small", EXACT.small, known]]);
    const { plain } = addNetSignals(withBackground, series, conditionsOf(series), { divisor: () => "none" })
      .conditions[0]!;
    const small = correctedSignal(separation, plain);
    const reference = separation.conditions[0]!.expected!;
    const ratio = small.over(reference);
    expect(ratio.value).toBeCloseTo(0.6, 12);
    const relative = (node: Scalar) => propagate(chain.model, node).u / node.value;
    // β(1/3.875 − 1/2.325) = −0.344 %: the stem ratio does not see β at all, as it holds differences only
    expect(relative(ratio)).toBeCloseTo(0.02 * (1 / 2.325 - 1 / 3.875), 9);
    expect(relative(ratio)).toBeCloseTo(0.003, 3);
    expect(relative(separation.stemRatio!)).toBeLessThan(1e-6);
    // the fit's result entered again as an independent input
    const apart = Math.hypot(relative(small), relative(reference));
    expect(apart).toBeCloseTo(Math.hypot(0.02 / 2.325, 0.02 / 3.875), 9);
    expect(apart).toBeCloseTo(0.01, 3);
  });
});

describe("normalisation of the separation", () => {
  it("NET-7: by the monitor where every reading that counts has one, else by MU, else not at all", () => {
    const series = (...more: Partial<SeparationReading>[]) =>
      seriesOf(
        "separation",
        more.map((own) => ["a", [1, 1], own]),
      );
    expect(fluctuationDivisor(series({ monitor: 1, mu: 1 }, { monitor: 1, mu: 1 }))).toBe("monitor");
    expect(fluctuationDivisor(series({ monitor: 1, mu: 1 }, { mu: 1 }))).toBe("mu");
    expect(fluctuationDivisor(series({ monitor: 1, mu: 1 }, {}))).toBe("none");
    expect(fluctuationDivisor(series({ monitor: 1 }, { exclude: "no monitor" }))).toBe("monitor");
  });
});

describe("doses of a field series", () => {
  it("CAL-1: test set B of docs/job.md (C) comes out with the doses that it was made from", () => {
    const chain = chainOf({ temperatureCoefficient_perK: { value: 0, u: 0 } });
    const separation = separate(
      [fit("little", EXACT.little, { dose_Gy: 1 }), fit("much", EXACT.much, { dose_Gy: 1 })],
      chain,
    );
    const series = seriesOf(
      "output-factors",
      FIELD_SERIES.map(({ field, signals }) => [field, signals]),
    );
    const { conditions } = addNetSignals(chain, series, conditionsOf(series), { divisor: () => "none" });
    FIELD_SERIES.forEach(({ dose_cGy }, i) => {
      const dose = separation.coefficient!.times(correctedSignal(separation, conditions[i]!.plain));
      expect(dose.unit.symbol).toBe("Gy");
      expect(100 * dose.value).toBeCloseTo(dose_cGy, 9);
    });
    // the small field of the exact set: 0.60 Gy (docs/checks.md, C)
    const small = seriesOf("small", [["small", EXACT.small]]);
    const [one] = addNetSignals(chain, small, conditionsOf(small), { divisor: () => "none" }).conditions;
    expect(separation.coefficient!.times(correctedSignal(separation, one!.plain)).value).toBeCloseTo(0.6, 12);
  });
});
