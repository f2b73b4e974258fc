import {
  type Chain,
  correctedSignal,
  type NetCondition,
  type SeparationWeights,
  stemLoad,
} from "@alcedo-dosimetry/dosimetry";
import { type Model, ONE, type Scalar, sum } from "@alcedo-dosimetry/metrology";
import type { Evaluated, PlainSignal } from "./evaluated.ts";
import type { Finding } from "./finding.ts";
import { monitorNotUsable } from "./findings/monitor-not-usable.ts";
import { referenceMissing } from "./findings/reference-missing.ts";
import type { SeriesReadings } from "./readings.ts";
import type { StageId } from "./result.ts";

/** An evaluation under way: each stage adds what it found, and reads what those before it did. */
export type ChainRun = { -readonly [K in keyof Omit<Evaluated, "signals" | "stopped">]: Evaluated[K] } & {
  readonly chain: Chain;
  readonly signals: PlainSignal[];
  readonly stopped: Map<StageId, Finding>;
};

/** Stops a stage for the finding, where there is one. */
export function stop({ stopped }: ChainRun, stage: StageId, finding: Finding | undefined): finding is Finding {
  if (finding) stopped.set(stage, finding);
  return finding !== undefined;
}

/** Stops the separation and all that rests on it: for the same reason, or for one of its own that can be seen. */
export function stopAll(run: ChainRun, finding: Finding): void {
  const { series, typed } = run;
  stop(run, "separation", finding);
  if (series.calibration) stop(run, "calibration", finding);
  if (series["output-factors"]) stop(run, "output-factors", outputFactorsUnfit(typed) ?? finding);
}

/** What can be seen to stand in the way of output factors before anything is computed. */
export function outputFactorsUnfit(typed: SeriesReadings): Finding | undefined {
  return referenceMissing(typed) ?? monitorNotUsable("output-factors", typed);
}

/** Adds the corrected signal of a reading as it stands, by condition. */
export function addPlainSignals(
  run: ChainRun,
  series: PlainSignal["series"],
  weights: SeparationWeights,
  conditions: readonly NetCondition[],
): void {
  for (const condition of new Set(conditions.map((visit) => visit.condition))) {
    const visits = conditions.filter((visit) => visit.condition === condition);
    const own = meanOfVisits(run.model, series, visits, run.channels);
    const corrected = correctedSignal(weights, own).named(
      `signal.${series}.${condition}`,
      `S_${condition}`,
      `corrected signal of a reading, ${condition}`,
    );
    run.signals.push({ series, condition, signals: own, corrected, load: stemLoad(own, corrected) });
  }
}

/** The mean of all readings of a condition, by channel, from its visits. */
function meanOfVisits(
  model: Model,
  series: string,
  visits: readonly NetCondition[],
  channels: readonly string[],
): readonly Scalar[] {
  if (visits.length === 1) return visits[0]!.plain;
  const total = visits.reduce((count, visit) => count + visit.count, 0);
  const shares = visits.map(({ name, count }) =>
    model.constant({
      key: `${series}/${name}/share of readings`,
      symbol: `n_${name}`,
      label: `share of ${name}`,
      unit: ONE,
      value: count / total,
      derivedFrom: series,
    }),
  );
  return channels.map((_, c) => sum(visits.map(({ plain }, i) => plain[c]!.times(shares[i]!))));
}
