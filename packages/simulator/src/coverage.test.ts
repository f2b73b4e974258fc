/**
 * The chain's 95 % intervals against campaigns whose truth is known: a short version. A longer one, with as many campaigns
 * of each regime as are asked for:
 *
 *     ALCEDO_COVERAGE_CAMPAIGNS=4000 npx vitest run packages/simulator/src/coverage.test.ts
 *
 * The detector is a point here: only what the other stages do is tested. The uncertainties of calibration dose and output
 * correction are stated as nothing, else they would hide what the readings do.
 */
import { expect, test } from "vitest";
import { type Laboratory, pointDetector } from "./laboratory.ts";
import { REGIMES } from "./regimes.ts";
import { type CoverageRun, coverageRun } from "./testing/coverage.ts";

const asked = process.env["ALCEDO_COVERAGE_CAMPAIGNS"];
const campaigns = Number(asked ?? 200);

const judged = /^(separation\.(stem-ratio|coefficient$|verify)|calibration\.coefficient|output-factor\.)/;

/** The regimes that strain the chain most: what a short run can afford. */
const straining = [
  "three-repeats",
  "no-monitor-three-repeats",
  "weak-contrast",
  "one-reference",
  "random-walk-three-repeats",
  "known-doses",
  "additive-noise",
];

const regimes = (Object.entries(REGIMES) as [string, () => Laboratory][]).filter(
  ([name]) => asked !== undefined || straining.includes(name),
);

function sharp(laboratory: Laboratory): Laboratory {
  const { physicist } = laboratory;
  const stated = { ...physicist.stated, calibrationDose_u_percent: 0, outputCorrection_u: 0 };
  const { outputFactors } = physicist.plan;
  const few = ["30x30", "10x10", "cone-5"];
  const fields =
    asked === undefined ? outputFactors.fields.filter(({ name }) => few.includes(name)) : outputFactors.fields;
  const plan = { ...physicist.plan, outputFactors: { ...outputFactors, fields } };
  return pointDetector({ ...laboratory, physicist: { ...physicist, plan, stated } });
}

/** Between the shares that a coverage of 93 and of 97 % gives, four standard deviations of counting about either. */
function expectCovered({ quantities }: CoverageRun): void {
  const own = [...quantities].filter(([id]) => judged.test(id));
  expect(own.length).toBeGreaterThan(5);
  for (const [id, { campaigns: n, covered, bias, spread }] of own) {
    const slack = (share: number) => 4 * Math.sqrt((share * (1 - share)) / n);
    expect(covered / n, `${id}: coverage`).toBeGreaterThan(0.93 - slack(0.93));
    expect(covered / n, `${id}: coverage`).toBeLessThanOrEqual(Math.min(1, 0.97 + slack(0.97)));
    // few campaigns cannot tell 97 % from 100: an uncertainty that is far too large shows in the spread
    expect(spread, `${id}: standard deviation over u`).toBeGreaterThan(0.75);
    // an error is about U/2 wide; a mean of n of them may be off by four of its own standard deviations
    expect(Math.abs(bias), `${id}: bias`).toBeLessThan(0.05 + 2 / Math.sqrt(n));
  }
}

test.each(regimes)(
  "%s: the intervals hold the truth as often as they say",
  { timeout: 60_000 + 200 * campaigns },
  (_, laboratory) => {
    expectCovered(coverageRun(sharp(laboratory()), campaigns, 7_000_000));
  },
);

test("an uncertainty stated too small by two thirds is seen: the check can fail", { timeout: 60_000 }, () => {
  const honest = pointDetector(REGIMES["five-repeats"]());
  const { stated } = honest.physicist;
  const run = coverageRun(honest, 60, 1, (campaign) => ({
    ...campaign,
    descriptor: {
      ...campaign.descriptor,
      alcedo: {
        ...campaign.descriptor.alcedo,
        assumptions: {
          ...campaign.descriptor.alcedo.assumptions,
          outputCorrection: { value: 1, u: stated.outputCorrection_u / 3 },
        },
      },
    },
  }));
  expect(() => expectCovered(run)).toThrow(/output-factor\..*coverage/);
});
