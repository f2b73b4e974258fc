import { evaluate } from "@alcedo-dosimetry/campaign";
import { evaluateAt } from "@alcedo-dosimetry/metrology";
import { campaignIn } from "./folder-on-disk.ts";
import { interleaved } from "./interleaved.ts";
import type { Row } from "./row.ts";

const campaign = campaignIn("examples/demonstration");
const { model, result } = evaluate(campaign);

/** The workload's line. */
export const name = `the demonstration campaign in process: ${result.quantities.length} quantities, each with its budget`;

/** The plain way to sensitivities: the whole graph again at every input shifted by its uncertainty, up and down. */
export const baseline = "sensitivities by re-evaluating the graph (values only)";

/** Evaluations before the clock starts: after as many the engine has compiled all that it will. */
const WARM_UP = 300;

/** Evaluations in a row, timed together: between two of the plain way's runs the caches would be cold each time. */
const TOGETHER = 20;

/** Runs it. */
export function run(): Row[] {
  for (let i = 0; i < WARM_UP; i++) evaluate(campaign);
  const shifts = model!.blocks.flatMap(({ first, elements, covariance }) =>
    elements.map((_, i) => ({ node: first + i, u: Math.sqrt(covariance[i * elements.length + i]!) })),
  );
  const [plain, whole] = interleaved(
    {
      [baseline]: () =>
        shifts.map(({ node, u }) =>
          [u, -u].map((shift) => evaluateAt(model!, new Map([[node, model!.values[node]! + shift]])).values.length),
        ),
      "evaluate: tables to result, budgets by reverse mode": () =>
        Array.from({ length: TOGETHER }, () => evaluate(campaign).result.quantities.length),
    },
    30,
  );
  return [plain!, { ...whole!, ms: whole!.ms / TOGETHER, note: `limit 5 ms; ${TOGETHER} in a row` }];
}
