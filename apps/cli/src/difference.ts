import {
  compareEvaluations,
  type EvaluationComparison,
  type Finding,
  type QuantityComparison,
  type Result,
  type Standing,
} from "@alcedo-dosimetry/campaign";
import type { EvaluatedFolder } from "./open-campaign.ts";

/** A standing that is another on the other side; null where the stage is not there. */
interface StandingChange {
  /** A stage, or `campaign`. */
  readonly id: string;
  readonly before: Standing | null;
  readonly after: Standing | null;
}

/** Two evaluations side by side, what differs. */
export interface Difference extends Omit<EvaluationComparison, "quantities"> {
  /** Quantities of which value or uncertainty changed. */
  readonly quantities: readonly QuantityComparison[];
  /** Quantities on both sides that are the same. */
  readonly unchanged: number;
  /** Quantities on both sides with no model behind them (a χ²) that changed. */
  readonly tests: readonly { readonly id: string; readonly before: number; readonly after: number }[];
  readonly standings: readonly StandingChange[];
  readonly appeared: readonly Finding[];
  readonly disappeared: readonly Finding[];
}

/** What differs between two evaluated campaigns. */
export function differenceOf(before: EvaluatedFolder, after: EvaluatedFolder): Difference {
  const { quantities, onlyBefore, onlyAfter } = compareEvaluations(before.evaluation, after.evaluation);
  const [a, b] = [before.evaluation.result, after.evaluation.result];
  const changed = quantities.filter(
    ({ before: from, after: to, uBefore, uAfter }) => from !== to || uBefore !== uAfter,
  );
  return {
    quantities: changed,
    unchanged: quantities.length - changed.length,
    onlyBefore,
    onlyAfter,
    tests: changedTests(a, b, new Set(quantities.map(({ id }) => id))),
    standings: changedStandings(a, b),
    appeared: missingFrom(a, b.findings),
    disappeared: missingFrom(b, a.findings),
  };
}

/** True where no result differs. */
export function isNoDifference(difference: Difference): boolean {
  const { quantities, onlyBefore, onlyAfter, tests, standings, appeared, disappeared } = difference;
  return [quantities, onlyBefore, onlyAfter, tests, standings, appeared, disappeared].every(
    (list) => list.length === 0,
  );
}

function changedTests(a: Result, b: Result, compared: ReadonlySet<string>) {
  const there = new Map(b.quantities.map(({ id, value }) => [id, value]));
  return a.quantities.flatMap(({ id, value }) => {
    const other = there.get(id);
    return compared.has(id) || other === undefined || other === value ? [] : [{ id, before: value, after: other }];
  });
}

function changedStandings(a: Result, b: Result): StandingChange[] {
  const standings = ({ standing, stages }: Result) =>
    new Map<string, Standing>([["campaign", standing], ...stages.map((stage) => [stage.id, stage.standing] as const)]);
  const [here, there] = [standings(a), standings(b)];
  return [...new Set([...here.keys(), ...there.keys()])]
    .map((id) => ({ id, before: here.get(id) ?? null, after: there.get(id) ?? null }))
    .filter(({ before, after }) => before !== after);
}

/** Findings that one result has and the other has not; a message with other figures is another finding. */
function missingFrom({ findings }: Result, others: readonly Finding[]): Finding[] {
  const known = new Set(findings.map((finding) => JSON.stringify(finding)));
  return others.filter((finding) => !known.has(JSON.stringify(finding)));
}
