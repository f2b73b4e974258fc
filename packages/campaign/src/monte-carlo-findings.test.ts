import { Model, type MonteCarloResult, monteCarlo, ONE, type Scalar } from "@alcedo-dosimetry/metrology";
import { describe, expect, it } from "vitest";
import type { Evaluation } from "./evaluate.ts";
import { evaluate } from "./evaluate.ts";
import { linearVerdict } from "./linear-verdict.ts";
import { monteCarloOf } from "./monte-carlo.ts";
import { quantityOf } from "./quantity.ts";
import { madeUpCampaign } from "./testing/made-up-campaign.ts";

/** An evaluation of one quantity, made of an input of value 1. */
function of(u: number, formula: (x: Scalar) => Scalar, dof = Number.POSITIVE_INFINITY): Evaluation {
  const model = new Model();
  const x = model.estimate({ key: "x", symbol: "x", label: "x", type: "A", unit: ONE, value: 1, u, dof });
  const node = formula(x).times(1).named("y", "y", "y");
  const quantity = quantityOf(model, node, { id: "y", symbol: "y", label: "y" });
  const head = { alcedo: "0", campaign: "made-up", input: "", standing: "sound", stages: [], findings: [] } as const;
  return { result: { ...head, quantities: [quantity] }, model, nodes: new Map([["y", node]]) };
}

const findings = (evaluation: Evaluation, trials: number | "adaptive" = 200_000) =>
  monteCarloOf(evaluation, { trials, seed: 1 }).result.findings;

/** For each code an evaluation in which it speaks, and one that differs in little, in which it is silent. */
const FIXTURES: Readonly<Record<string, readonly [fires: () => Evaluation, silent: () => Evaluation]>> = {
  // the logarithm of what may be below zero: five standard deviations off, and two
  "monte-carlo-trials-failed": [() => of(0.5, (x) => x.logarithm()), () => of(0.1, (x) => x.logarithm())],
  // a square is curved: by a hundredth of u, and by a quarter
  "linear-not-validated": [() => of(0.1, (x) => x.times(x)), () => of(0.002, (x) => x.times(x))],
  "monte-carlo-without-variance": [() => of(0.1, (x) => x.times(2), 2), () => of(0.1, (x) => x.times(2), 3)],
};

describe.each(Object.entries(FIXTURES))("the finding %s", (code, [fires, silent]) => {
  it("speaks where it should, naming the quantity, with effect and remedy", () => {
    const [finding, ...others] = findings(fires()).filter((one) => one.code === code);
    expect(others).toEqual([]);
    expect(finding!.message).toContain("y");
    expect(finding!.effect).toBeTruthy();
    expect(finding!.remedy).toBeTruthy();
    expect(JSON.stringify(finding)).not.toMatch(/NaN|Infinity|undefined/);
  });

  it("is silent where all is well", () => {
    expect(findings(silent()).map((one) => one.code)).not.toContain(code);
  });
});

describe("the finding monte-carlo-not-settled", () => {
  it("speaks where an adaptive run ends before its figures are good", () => {
    // t with one degree of freedom has ends that hardly settle at all
    const [finding] = findings(
      of(0.0099, (x) => x.times(1), 1),
      "adaptive",
    ).filter(({ code }) => code === "monte-carlo-not-settled");
    expect(finding).toMatchObject({ level: "notice" });
    expect(finding!.message).toMatch(/^Monte Carlo: \d+ trials did not suffice/);
  });

  it("is silent where they are good, and where a number of trials was asked for", () => {
    const codes = [
      ...findings(
        of(0.02, (x) => x.times(2)),
        "adaptive",
      ),
      ...findings(
        of(0.0099, (x) => x, 1),
        3000,
      ),
    ].map(({ code }) => code);
    expect(codes).not.toContain("monte-carlo-not-settled");
  });
});

describe("a verdict on the law of propagation", () => {
  const trialsOf = (evaluation: Evaluation, trials: number): MonteCarloResult =>
    monteCarlo(evaluation.model!, [...evaluation.nodes.values()], { seed: 4, trials }).results[0]!;

  it("is undecided where the trials are too few to tell", () => {
    const square = of(0.02, (x) => x.times(x));
    const [quantity] = square.result.quantities;
    const verdicts = [20_000, 200_000, 1_000_000].map((trials) => linearVerdict(quantity!, trialsOf(square, trials)));
    expect(verdicts[0]).toBe("undecided");
    expect(verdicts[2]).toBe("not-validated");
  });

  it("is none where there is nothing to compare", () => {
    const plain = of(0.02, (x) => x);
    const [quantity] = plain.result.quantities;
    const run = trialsOf(plain, 3000);
    expect(linearVerdict({ ...quantity!, u: null, U: null }, run)).toBeUndefined();
    expect(linearVerdict({ ...quantity!, U: null }, run)).toBeUndefined();
    expect(linearVerdict({ ...quantity!, u: 0, U: 0 }, run)).toBeUndefined();
    expect(linearVerdict(quantity!, { ...run, symmetric: null })).toBeUndefined();
  });

  it("is given for the quantities of a campaign", () => {
    const { result } = monteCarloOf(evaluate(madeUpCampaign()), { trials: 2048, seed: 1 });
    const verdicts = new Set(result.quantities.map(({ linear }) => linear));
    expect(verdicts.has("validated") || verdicts.has("undecided")).toBe(true);
    expect(verdicts.has(undefined)).toBe(true); // χ² and fields that are flat
  });
});
