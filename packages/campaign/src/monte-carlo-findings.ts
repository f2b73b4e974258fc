import type { MonteCarloResult } from "@alcedo-dosimetry/metrology";
import type { Finding } from "./finding.ts";
import { list } from "./findings/in-words.ts";
import type { MonteCarloRecord, Quantity } from "./result.ts";

/** What a Monte Carlo run gives to notice. */
export function monteCarloFindings(
  quantities: readonly Quantity[],
  record: MonteCarloRecord,
  found: ReadonlyMap<string, MonteCarloResult>,
): Finding[] {
  return [
    ...trialsFailed(quantities, record, found),
    ...linearNotValidated(quantities),
    ...notSettled(record),
    ...withoutVariance(quantities, found),
  ];
}

/** What a campaign is made for stands first: where many are named, it is seen. */
const MAIN = /^(output-factor\.|(separation|calibration)\.coefficient$|separation\.(stem-ratio|weight\.))/;

function mainFirst(ids: readonly string[]): string[] {
  return [...ids.filter((id) => MAIN.test(id)), ...ids.filter((id) => !MAIN.test(id))];
}

/** Trials without a value, in some quantity. */
function trialsFailed(
  quantities: readonly Quantity[],
  { trials }: MonteCarloRecord,
  found: ReadonlyMap<string, MonteCarloResult>,
): Finding[] {
  const failed = quantities.filter(({ mcFailures }) => mcFailures !== undefined);
  if (failed.length === 0) return [];
  const most = failed.reduce((a, b) => (b.mcFailures! > a.mcFailures! ? b : a));
  const part = most.mcFailures! / (most.mcFailures! + found.get(most.id)!.trials);
  return [
    {
      level: "warning",
      code: "monte-carlo-trials-failed",
      message: `Monte Carlo: up to ${most.mcFailures} of ${trials} trials gave no value, most in ${most.id}.`,
      effect: `Mean, standard deviation and interval of ${list(failed.map(({ id }) => id))} are of the other trials: of a part of the distribution.`,
      remedy: "See whether an uncertainty is stated larger than the quantity itself.",
      facts: { failures: most.mcFailures!, part },
    },
  ];
}

/** Quantities whose interval is not value ± U. */
function linearNotValidated(quantities: readonly Quantity[]): Finding[] {
  const ids = mainFirst(quantities.filter(({ linear }) => linear === "not-validated").map(({ id }) => id));
  if (ids.length === 0) return [];
  return [
    {
      level: "notice",
      code: "linear-not-validated",
      message: `Monte Carlo does not bear value ± U out for ${list(ids)}: an end of the interval lies off by more than half of the second digit of u.`,
      effect: "U is of the law of propagation, which takes every formula as a straight line and every error as normal.",
      remedy: "Report interval95 for them (JCGM 101:2008, 8).",
      facts: { quantities: ids.length },
    },
  ];
}

/** An adaptive run that ended before its figures were good. */
function notSettled({ trials, settled }: MonteCarloRecord): Finding[] {
  if (settled !== false) return [];
  return [
    {
      level: "notice",
      code: "monte-carlo-not-settled",
      message: `Monte Carlo: ${trials} trials did not suffice to have two digits of every u.`,
      effect: "The last digits of some intervals may change with the seed.",
      remedy: "Ask for more trials by their number.",
      facts: { trials },
    },
  ];
}

/** Quantities that lean on so few degrees of freedom that they have no variance. */
function withoutVariance(quantities: readonly Quantity[], found: ReadonlyMap<string, MonteCarloResult>): Finding[] {
  const ids = quantities
    .filter(({ id, typeA }) => typeA === undefined && found.get(id)?.symmetric && found.get(id)?.u === null)
    .map(({ id }) => id);
  if (ids.length === 0) return [];
  return [
    {
      level: "notice",
      code: "monte-carlo-without-variance",
      message: `Monte Carlo: ${list(ids)} lean on an estimate with two degrees of freedom or less, so their distribution has no standard deviation.`,
      effect: "mcU is empty for them, and with one degree of freedom mcMean too; interval95 holds all the same.",
      remedy: "Take more repeats, or visit the reference field more often.",
      facts: { quantities: ids.length },
    },
  ];
}
