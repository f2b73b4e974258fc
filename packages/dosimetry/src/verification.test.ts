import { covarianceOf, type Model, propagate } from "@alcedo-dosimetry/metrology";
import { describe, expect, it } from "vitest";
import { addSeparation, type Separation, type SeparationReading } from "./separation.ts";
import { EXACT } from "./testing/exact-set.ts";
import { exactChain, type Row, seriesOf } from "./testing/made-up-series.ts";
import { residualSlope, type Verdict, type Verification, verifiedRange, verify } from "./verification.ts";

type SeparationRow = Row<SeparationReading>;
const CRITERION = 0.005;

/** Three repeats of signals that scatter by that much, alike in both channels. */
function condition(
  name: string,
  signals: readonly number[],
  role: "fit" | "verify",
  { scatter = 1e-4, ...more }: { scatter?: number } & Partial<SeparationReading> = {},
): SeparationRow[] {
  return [-1, 0, 1].map((d) => [
    name,
    signals.map((signal) => signal * (1 + scatter * d)),
    { doseGroup: "100x100", role, ...more },
  ]);
}

function verified(rows: readonly SeparationRow[], doseEquality_u = 0.0005, criterion = CRITERION) {
  const chain = exactChain();
  const separation = addSeparation(chain, seriesOf<SeparationReading>("separation", rows), doseEquality_u);
  const { model } = chain;
  return { model, separation, verifications: verify(model, separation, criterion) };
}

const FIT = [...condition("little", EXACT.little, "fit"), ...condition("much", EXACT.much, "fit")];
const scaled = (signals: readonly number[], by: number) => signals.map((signal) => signal * (1 + by));

describe("the verification", () => {
  it("VER-1: δ is the corrected signal over its group's, less one, named by its condition", () => {
    const { verifications } = verified([...FIT, ...condition("half", scaled(EXACT.half, 0.003), "verify")]);
    expect(verifications.length).toBe(1);
    const { residual, condition: own } = verifications[0]!;
    expect(residual.value).toBeCloseTo(0.003, 10);
    expect(own.name).toBe("half");
    expect(residual.tape.names.get(residual.index)?.key).toBe("separation.verify.half");
  });

  it("VER-1: a wrong stem ratio shows in the readings that docs/job.md lists (test set A, C)", () => {
    // mistake with much fibre → what the verification of 100 cGy with 20 cm of fibre reads, in cGy
    const readings = (much: readonly number[]) => {
      const rows = [...condition("little", EXACT.little, "fit"), ...condition("much", much, "fit")];
      const more = [...condition("half", EXACT.half, "verify"), ...condition("long", EXACT.long, "verify")];
      return verified([...rows, ...more]).verifications.map(({ residual }) => 100 * (1 + residual.value));
    };
    const output = readings(scaled(EXACT.much, 0.01));
    expect(output[0]).toBeCloseTo(99.58, 2);
    expect(output[1]).toBeCloseTo(98.44, 2);
    const unequal = readings(scaled(EXACT.much, 0.03));
    expect(unequal[0]).toBeCloseTo(98.75, 2);
    expect(unequal[1]).toBeCloseTo(95.42, 2);
    const five = readings(scaled(EXACT.much, 0.05));
    expect(five[0]).toBeCloseTo(97.96, 2);
    expect(five[1]).toBeCloseTo(92.52, 2);
    expect(readings([17, 17.5 * 0.95])[0]).toBeCloseTo(91.89, 2);
  });

  it("VER-1: its uncertainty holds the weights, the group's signal and both equalities of dose, with what they share", () => {
    const { model, separation, verifications } = verified([...FIT, ...condition("half", EXACT.half, "verify")], 0.002);
    // by hand: δ = S_v/(I·e_v) − 1 with ρ and I from two conditions: S_v is an interpolation between them, at
    // t = (9.5 − 3.5)/14, so that δ = [q1,v − (1 − t)(q1,min − I·e_min …)]/I …: ∂δ/∂e = −1 for its own, 1 − t and t for the others
    const t = (9.5 - 3.5) / 14;
    const equality = 0.002 * Math.hypot(1, 1 - t, t);
    const scatter = (1e-4 / Math.sqrt(3)) * Math.hypot(1, 1 - t, t); // alike in both channels: a scatter of the dose
    expect(propagate(model, verifications[0]!.residual).u).toBeCloseTo(Math.hypot(equality, scatter), 8);
    expect(separation.dof).toBe(0);
  });

  it("VER-1: a verification of known dose in a group of its own is held against the coefficient", () => {
    const known = { dose_Gy: 1, dose_u_Gy: 0 };
    const rows = [
      ...condition("little", EXACT.little, "fit", known),
      ...condition("much", EXACT.much, "fit", known),
      ...condition("small", scaled(EXACT.small, 0.002), "verify", {
        dose_Gy: 0.6,
        dose_u_Gy: 0.003,
        doseGroup: "small",
      }),
    ];
    const { model, verifications } = verified(rows);
    expect(verifications[0]!.residual.value).toBeCloseTo(0.002, 8);
    expect(propagate(model, verifications[0]!.residual).u).toBeGreaterThan(0.005); // the dose's own half per cent
  });

  it("VER-1: one that nothing can be compared with is a mistake of the caller's", () => {
    expect(() => verified([...FIT, ...condition("x", [5, 2], "verify", { doseGroup: "other" })])).toThrow(
      "nothing says",
    );
  });
});

describe("the verdict", () => {
  const verdictOf = (off: number, scatter: number, criterion = CRITERION): Verdict =>
    verified([...FIT, ...condition("half", scaled(EXACT.half, off), "verify", { scatter })], 0.0005, criterion)
      .verifications[0]!.verdict;

  it("VER-2: has passed within the criterion, if U(δ) is at most twice the criterion", () => {
    expect(verdictOf(0, 1e-4)).toBe("passed");
    expect(verdictOf(0.0045, 1e-4)).toBe("passed");
    expect(verdictOf(-0.0045, 1e-4)).toBe("passed");
  });

  it("VER-2: has failed beyond it, if that is significant at 0.5 %", () => {
    expect(verdictOf(0.006, 1e-4)).toBe("failed");
    expect(verdictOf(-0.02, 1e-4)).toBe("failed");
  });

  it("VER-2: is inconclusive where the uncertainty hides either", () => {
    expect(verdictOf(0.006, 5e-3)).toBe("inconclusive"); // beyond, and perhaps by chance
    expect(verdictOf(0.001, 2e-2)).toBe("inconclusive"); // within, and perhaps by chance
    // on both sides of U = 2c = 1 %: s/√3 with two degrees of freedom and 0.06 % of dose equality make k about 3.9
    expect(verdictOf(0.001, 0.0038)).toBe("passed"); // 0.9 %
    expect(verdictOf(0.001, 0.0046)).toBe("inconclusive"); // 1.1 %
  });

  it("VER-2: the criterion is the user's", () => {
    expect(verdictOf(0.006, 1e-4, 0.01)).toBe("passed");
    expect(verdictOf(0.004, 1e-4, 0.002)).toBe("failed");
  });

  it("VER-2: p is that of a t test with the effective degrees of freedom, two-sided", () => {
    // type A alone: one pooled group with 6 degrees of freedom, and δ/u of t(6; 0.975) = 2.446912 (scipy, C) has p = 0.05
    const rows = (off: number) => [...FIT, ...condition("half", scaled(EXACT.half, off), "verify")];
    const { model, verifications } = verified(rows(0), 0);
    const { u, dof } = propagate(model, verifications[0]!.residual);
    expect(dof).toBeCloseTo(6, 2);
    const [one] = verified(rows(2.446912 * u), 0).verifications;
    expect(one!.p).toBeCloseTo(0.05, 3);
    expect(verified(rows(-2.446912 * u), 0).verifications[0]!.p).toBeCloseTo(0.05, 3);
  });

  it("VER-2: without repeats nothing passes and nothing fails", () => {
    const single = [
      ["little", EXACT.little],
      ["much", EXACT.much],
      ["half", scaled(EXACT.half, 0.05)],
      ["long", EXACT.long],
    ].map(
      ([name, signals], i): SeparationRow => [
        name as string,
        signals as number[],
        { doseGroup: "a", role: i < 2 ? "fit" : "verify" },
      ],
    );
    const { verifications } = verified(single);
    expect(verifications.map(({ verdict, p }) => [verdict, p])).toEqual([
      ["inconclusive", undefined],
      ["inconclusive", undefined],
    ]);
  });

  it("VER-3: the level is shared by all verifications (Šidák): what fails alone may be chance among many", () => {
    const rows = (off: number, others: number) => [
      ...FIT,
      ...condition("half", scaled(EXACT.half, off), "verify", { scatter: 0.002 }),
      ...Array.from({ length: others }, (_, i) =>
        condition(`more-${i}`, EXACT.half, "verify", { scatter: 0.002 }),
      ).flat(),
    ];
    const outcome = (off: number, others: number) => verified(rows(off, others), 0.0005, 0.001).verifications[0]!;
    const found = [0.0025, 0.003, 0.0035, 0.004, 0.0045, 0.005, 0.0055, 0.006].map((off) => ({
      off,
      alone: outcome(off, 0),
      among: outcome(off, 9),
    }));
    for (const { alone, among } of found) {
      expect(alone.verdict === "failed").toBe(alone.p! < 0.005);
      expect(among.verdict === "failed").toBe(among.p! < 1 - 0.995 ** (1 / 10));
    }
    expect(found.some(({ among }) => among.verdict === "inconclusive" && among.p! < 0.01)).toBe(true);
  });
});

describe("the verified range", () => {
  const range = (rows: readonly SeparationRow[]) => {
    const { separation, verifications } = verified(rows);
    return { ...verifiedRange(separation, verifications), verifications };
  };

  it("VER-4: without a verification, a fit that could not have disagreed proves nothing", () => {
    expect(range(FIT)).toMatchObject({ highest: undefined, reachesMiddle: false });
  });

  it("VER-4: it reaches to the highest stem load that passed", () => {
    const { highest, reachesMiddle } = range([
      ...FIT,
      ...condition("half", EXACT.half, "verify"),
      ...condition("long", EXACT.long, "verify"),
    ]);
    expect(highest!.name).toBe("long");
    expect(highest!.load.value).toBeCloseTo(25.5 / 3.875, 5);
    expect(reachesMiddle).toBe(true);
  });

  it("VER-4: what failed or said nothing proves nothing", () => {
    const { highest, verifications } = range([
      ...FIT,
      ...condition("half", EXACT.half, "verify"),
      ...condition("long", scaled(EXACT.long, 0.02), "verify"),
    ]);
    expect(verifications.map(({ verdict }) => verdict)).toEqual(["passed", "failed"]);
    expect(highest!.name).toBe("half");
  });

  it("VER-4: the middle is that of the fit's stem loads: 20 cm of fibre is short of it, 25 cm is not", () => {
    // loads of the fit 0.903 and 4.516, middle 2.710; 20 cm 2.452, 25 cm 2.968
    expect(range([...FIT, ...condition("half", EXACT.half, "verify")]).reachesMiddle).toBe(false);
    expect(range([...FIT, ...condition("more", [12.5, 11.5], "verify")]).reachesMiddle).toBe(true);
  });

  it("VER-4: fit conditions count where the fit could have disagreed and did not", () => {
    const agreeing = [...FIT, ...condition("half", EXACT.half, "fit")];
    expect(range(agreeing).highest!.name).toBe("much");
    expect(range(agreeing).reachesMiddle).toBe(false); // only what was kept aside makes the separation sound
    const disagreeing = [...FIT, ...condition("half", scaled(EXACT.half, 0.02), "fit")];
    expect(range(disagreeing).highest).toBeUndefined();
  });
});

describe("the slope of the residuals", () => {
  const aside = [
    ...condition("half", EXACT.half, "verify"),
    ...condition("long", EXACT.long, "verify"),
    ...condition("mid", [14, 13.5], "verify"),
  ];
  const slopeOf = (rows: readonly SeparationRow[]) => {
    const { model, verifications, separation } = verified(rows);
    return { model, verifications, separation, slope: residualSlope(model, verifications) };
  };

  it("VER-5: estimates −δρ where the stem ratio is wrong, the better the smaller the error", () => {
    const estimate = (loss: number) => {
      const wrong = [...condition("little", EXACT.little, "fit"), ...condition("much", [17, 17.5 * (1 - loss)], "fit")];
      const { slope, separation } = slopeOf([...wrong, ...aside]);
      const error = separation.stemRatio!.value - 0.75;
      return { error, ratio: slope!.value / -error };
    };
    expect(estimate(0.01).error).toBeCloseTo(0.0095, 4); // docs/job.md, test set A, second channel −1 %: 0.7595 (C)
    // the stem loads are those of the wrong ratio as well
    for (const loss of [0.01, -0.01, 0.001, 0.0001]) {
      const { error, ratio } = estimate(loss);
      expect(Math.abs(ratio - 1)).toBeLessThan(10 * Math.abs(error));
    }
  });

  it("VER-5: a dose that is off alike in all verifications leaves no slope", () => {
    const off = aside.map(([name, signals, more]): SeparationRow => [name, scaled(signals, 0.01), more]);
    const { slope, model } = slopeOf([...FIT, ...off]);
    expect(Math.abs(slope!.value)).toBeLessThan(1e-9);
    expect(propagate(model, slope!).u).toBeGreaterThan(1e-5);
  });

  it("VER-5: is generalised least squares: no other unbiased combination of the residuals has a smaller uncertainty", () => {
    const { slope, model, verifications } = slopeOf([...FIT, ...aside]);
    const { u } = propagate(model, slope!);
    const covariance = covarianceOf(
      model,
      verifications.map(({ residual }) => residual),
    );
    const loads = verifications.map(({ condition: { load } }) => load.value);
    // weights that add up to zero and give one for the loads themselves: the slope by two of the three, and mixtures of them
    const pair = (i: number, j: number) => {
      const weights = [0, 0, 0];
      weights[i] = -1 / (loads[j]! - loads[i]!);
      weights[j] = 1 / (loads[j]! - loads[i]!);
      return weights;
    };
    const spread = (w: readonly number[]) =>
      Math.sqrt(w.reduce((total, a, i) => total + w.reduce((sum, b, j) => sum + a * b * covariance[3 * i + j]!, 0), 0));
    const [first, second] = [pair(0, 1), pair(0, 2)];
    const mixtures = Array.from({ length: 401 }, (_, k) => {
      const t = -2 + k / 80;
      return spread(first.map((a, i) => t * a + (1 - t) * second[i]!));
    });
    expect(Math.min(...mixtures)).toBeGreaterThanOrEqual(u * (1 - 1e-9));
    expect(Math.min(...mixtures)).toBeLessThan(u * 1.001);
  });

  it("VER-5: there is none with one stem load, or with residuals that are taken as exact", () => {
    expect(slopeOf(FIT).slope).toBeUndefined();
    expect(slopeOf([...FIT, ...condition("half", EXACT.half, "verify")]).slope).toBeUndefined();
    const exact = (model: Model, separation: Separation): Verification[] =>
      separation.conditions.slice(0, 2).map((own) => ({
        condition: own,
        verdict: "passed",
        p: 1,
        residual: model.constant({ key: own.name, symbol: "δ", label: "δ", unit: own.level.unit, value: 0.001 }),
      }));
    const { model, separation } = verified(FIT);
    expect(residualSlope(model, exact(model, separation))).toBeUndefined();
  });

  it("VER-5: stem loads that differ by rounding alone are one", () => {
    const twin = condition("twin", scaled(EXACT.half, 1e-15), "verify");
    expect(slopeOf([...FIT, ...condition("half", EXACT.half, "verify"), ...twin]).slope).toBeUndefined();
  });
});
