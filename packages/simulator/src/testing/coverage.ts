import { type Campaign, evaluate } from "@alcedo-dosimetry/campaign";
import type { Laboratory } from "../laboratory.ts";
import { simulate } from "../simulate.ts";
import { trueQuantities } from "../truth.ts";

/** How the intervals of one quantity fared over many campaigns. */
interface Coverage {
  readonly campaigns: number;
  /** Campaigns whose 95 % interval holds the truth. */
  readonly covered: number;
  /** Mean error over the mean expanded uncertainty. */
  readonly bias: number;
  /** Standard deviation of the error over the mean standard uncertainty. */
  readonly spread: number;
}

/** What many campaigns of one laboratory show. */
export interface CoverageRun {
  readonly quantities: ReadonlyMap<string, Coverage>;
  /** Campaigns with a finding of that code, errors and warnings alone. */
  readonly alarms: ReadonlyMap<string, number>;
  /** Campaigns with any of them. */
  readonly alarmed: number;
}

/**
 * Evaluates campaigns of consecutive seeds and counts how often U holds the truth.
 *
 * @param tamper changes each campaign before it is evaluated: to see that the count can fail.
 */
export function coverageRun(
  laboratory: Laboratory,
  campaigns: number,
  firstSeed: number,
  tamper: (campaign: Campaign) => Campaign = (campaign) => campaign,
): CoverageRun {
  const errors = new Map<string, { error: number; u: number; U: number }[]>();
  const alarms = new Map<string, number>();
  let alarmed = 0;
  for (let i = 0; i < campaigns; i++) {
    const { campaign, truth } = simulate(laboratory, firstSeed + i);
    const { result } = evaluate(tamper(campaign));
    const known = trueQuantities(truth);
    for (const { id, value, u, U } of result.quantities) {
      // a condition that was kept aside got its group's dose, as far as anybody knows
      const is = id.startsWith("separation.verify.") ? 0 : known.get(id);
      if (is === undefined || u === null || U === null || u === 0) continue;
      const own = errors.get(id) ?? [];
      own.push({ error: value - is, u, U });
      errors.set(id, own);
    }
    const codes = new Set(result.findings.filter(({ level }) => level !== "notice").map(({ code }) => code));
    for (const code of codes) alarms.set(code, (alarms.get(code) ?? 0) + 1);
    if (codes.size > 0) alarmed++;
  }
  const quantities = new Map(
    [...errors].map(([id, own]) => {
      const mean = (value: (one: (typeof own)[number]) => number) =>
        own.reduce((total, one) => total + value(one), 0) / own.length;
      const bias = mean(({ error }) => error);
      return [
        id,
        {
          campaigns: own.length,
          // rounding of the last bit must not decide
          covered: own.filter(({ error, U }) => Math.abs(error) <= U * (1 + 1e-12)).length,
          bias: bias / mean(({ U }) => U),
          spread: Math.sqrt(mean(({ error }) => (error - bias) * (error - bias))) / mean(({ u }) => u),
        },
      ] as const;
    }),
  );
  return { quantities, alarms, alarmed };
}
