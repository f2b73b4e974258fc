import { expect, test } from "vitest";
import { evaluate } from "./evaluate.ts";
import { quantityCovariance } from "./quantity-covariance.ts";
import { madeUpCampaign } from "./testing/made-up-campaign.ts";

const evaluation = evaluate(madeUpCampaign());
const u = (id: string) => evaluation.result.quantities.find((quantity) => quantity.id === id)!.u!;

test("the covariance of quantities has their variances on its diagonal and is symmetric", () => {
  const ids = ["separation.stem-ratio", "calibration.coefficient"];
  const covariance = quantityCovariance(evaluation, ids)!;
  expect(covariance[0]![0]).toBeCloseTo(u(ids[0]!) ** 2, 14);
  expect(covariance[1]![1]).toBeCloseTo(u(ids[1]!) ** 2, 14);
  expect(covariance[0]![1]).toBe(covariance[1]![0]);
  // N_D = D/(q_1 − ρ·q_2): an error of ρ is an error of N_D of the same sign
  expect(covariance[0]![1]).toBeGreaterThan(0);
});

test("there is none of what does not exist or has no model", () => {
  expect(quantityCovariance(evaluation, ["separation.stem-ratio", "no-such"])).toBeUndefined();
  expect(quantityCovariance(evaluation, ["separation.chi2"])).toBeUndefined();
});
