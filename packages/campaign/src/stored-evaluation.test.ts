import { propagate } from "@alcedo-dosimetry/metrology";
import { expect, test } from "vitest";
import { compareEvaluations } from "./compare-evaluations.ts";
import { evaluate } from "./evaluate.ts";
import { restoreEvaluation, type StoredEvaluation, storeEvaluation } from "./stored-evaluation.ts";
import { madeUpCampaign, put } from "./testing/made-up-campaign.ts";
import { traceQuantity } from "./trace-quantity.ts";

const evaluation = evaluate(madeUpCampaign());
const json = JSON.stringify(storeEvaluation(evaluation));
const back = restoreEvaluation(JSON.parse(json) as StoredEvaluation);

test("a stored evaluation comes back with the value and uncertainty of each quantity, out of its graph", () => {
  expect(evaluation.nodes.size).toBeGreaterThan(20);
  for (const [id, node] of evaluation.nodes) {
    const again = back.nodes.get(id)!;
    expect([id, again.value]).toEqual([id, node.value]);
    expect([id, propagate(back.model!, again).u]).toEqual([id, propagate(evaluation.model!, node).u]);
  }
});

test("its traces and the comparison with itself are those of the evaluation", () => {
  const id = "output-factor.5x5";
  expect(traceQuantity(back, id)).toEqual(traceQuantity(evaluation, id));
  const { quantities, onlyBefore, onlyAfter } = compareEvaluations(back, evaluation);
  expect(quantities.map((quantity) => quantity.id)).toEqual([...evaluation.nodes.keys()]);
  for (const { before, after, attributions } of quantities) expect([after, attributions]).toEqual([before, []]);
  expect([...onlyBefore, ...onlyAfter]).toEqual([]);
});

test("a later change is attributed to its reading as it is between two fresh evaluations", () => {
  const later = evaluate(madeUpCampaign((tables) => put(tables["output-factors"].slice(4, 5), "signal_blue", 3.9)));
  expect(compareEvaluations(back, later)).toEqual(compareEvaluations(evaluation, later));
});

test("budgets are left out, and what cannot be evaluated has nothing to store", () => {
  expect(json).not.toContain('"budget"');
  const broken = madeUpCampaign((tables) => put(tables.separation.slice(0, 1), "signal_blue", "six"));
  expect(storeEvaluation(evaluate(broken))).toBeUndefined();
});
