import { compareEvaluations, concise, type Evaluation, type Finding } from "@alcedo-dosimetry/campaign";
import type { WhatIf } from "./orders.ts";

/** Causes that are named beside a change. */
const CAUSES = 3;

/** A change of a smaller part than this is lost in the rounding of a sum. */
const LOST = 1e-10;

/** Two evaluations side by side: what changed, and what did it; what changed most in its own measure first. */
export function whatIf(before: Evaluation, after: Evaluation): WhatIf {
  const { quantities, onlyBefore, onlyAfter } = compareEvaluations(before, after);
  const differs = (a: number, b: number) => Math.abs(a - b) > LOST * Math.max(Math.abs(a), Math.abs(b));
  const measure = ({ change, uBefore, before: from }: (typeof quantities)[number]) =>
    Math.abs(change / (uBefore ?? from));
  const changed = quantities
    .filter(
      ({ before: from, after: to, uBefore, uAfter }) =>
        differs(from, to) || concise(from, uBefore) !== concise(to, uAfter),
    )
    .sort((a, b) => measure(b) - measure(a));
  return {
    standing: { before: before.result.standing, after: after.result.standing },
    changes: changed.map(
      ({ id, label, symbol, unit, before: from, after: to, uBefore, uAfter, change, attributions }) => ({
        ...{ id, label, symbol, unit, before: from, after: to, uBefore, uAfter, change },
        by: attributions.slice(0, CAUSES).map(({ input, change: part }) => ({ input, change: part })),
      }),
    ),
    unchanged: quantities.length - changed.length,
    onlyBefore,
    onlyAfter,
    coming: without(after.result.findings, before.result.findings),
    going: without(before.result.findings, after.result.findings),
  };
}

function without(findings: readonly Finding[], others: readonly Finding[]): Finding[] {
  const known = new Set(others.map(({ code, where }) => JSON.stringify([code, where])));
  return findings.filter(({ code, where }) => !known.has(JSON.stringify([code, where])));
}
