import { evaluate } from "@alcedo-dosimetry/campaign";
import { evaluateAt, monteCarlo, TRIALS_PER_BLOCK } from "@alcedo-dosimetry/metrology";
import { campaignIn } from "./folder-on-disk.ts";
import { interleaved } from "./interleaved.ts";
import type { Row } from "./row.ts";

/** A million, rounded up to whole blocks. */
const TRIALS = Math.ceil(1e6 / TRIALS_PER_BLOCK) * TRIALS_PER_BLOCK;

/** So many are made the plain way, and their time scaled. */
const PLAIN_TRIALS = 1000;

const { model, nodes } = evaluate(campaignIn("examples/demonstration"));
const factors = [...nodes].flatMap(([id, node]) => (id.startsWith("output-factor.") ? [node] : []));

/** The workload's line. */
export const name = `Monte Carlo of the ${factors.length} output factors of the demonstration, ${TRIALS} trials with their 95 % intervals, on one thread`;

/** The graph as it stands, once for each trial, without drawing anything. */
export const baseline = `re-evaluating the whole graph trial by trial (${PLAIN_TRIALS} trials, scaled)`;

/** Runs it. */
export function run(): Row[] {
  const [first] = model!.blocks;
  const [plain, ours] = interleaved(
    {
      [baseline]: () => {
        let total = 0;
        for (let trial = 0; trial < PLAIN_TRIALS; trial++) {
          const shifted = model!.values[first!.first]! * (1 + trial * 1e-9);
          total += evaluateAt(model!, new Map([[first!.first, shifted]])).values[factors[0]!.index]!;
        }
        return total;
      },
      "monteCarlo: blocks over columns, intervals by selection": () =>
        monteCarlo(model!, factors, { seed: 1, trials: TRIALS }).results.map(({ symmetric }) => symmetric!.high),
    },
    3,
  );
  return [
    { ...plain!, ms: (plain!.ms * TRIALS) / PLAIN_TRIALS },
    { ...ours!, note: "limit 3000 ms" },
  ];
}
