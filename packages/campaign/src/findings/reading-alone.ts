import type { NetCondition, Series } from "@alcedo-dosimetry/dosimetry";
import { sidakFamily, tCdf } from "@alcedo-dosimetry/metrology";
import type { Finding } from "../finding.ts";
import { FAMILY_LEVEL } from "./false-alarms.ts";
import { percent, significant } from "./in-words.ts";
import { likelySlip } from "./likely-slip.ts";
import type { Rule } from "./rule.ts";

interface Lone {
  readonly condition: string;
  readonly row: number;
  readonly channel: number;
  /** Its value over the mean of its repeats. */
  readonly ratio: number;
  /** Two-sided, of this channel of this reading alone. */
  readonly p: number;
}

/**
 * The reading farthest from its repeats: its distance from their mean against the scatter of all other readings of the
 * series, each in units of what a reading of its size should scatter by.
 */
function loneReading(conditions: readonly NetCondition[]): { lone: Lone | undefined; tests: number } {
  let lone: Lone | undefined;
  let tests = 0;
  const channels = conditions[0]?.normalised.length ?? 0;
  for (let channel = 0; channel < channels; channel++) {
    const scaled = conditions.map((condition) => scaledReadings(condition, channel));
    const squares = scaled.map(squaresOf);
    const dofs = scaled.map((values) => Math.max(0, values.length - 1));
    conditions.forEach((condition, i) => {
      const own = scaled[i]!;
      if (own.length < 2) return;
      const squaresOfOthers = squares.reduce((total, one, j) => (j === i ? total : total + one), 0);
      const dof = own.length - 2 + dofs.reduce((total, one, j) => (j === i ? total : total + one), 0);
      condition.perReading.forEach(({ row }, k) => {
        const rest = own.filter((_, other) => other !== k);
        const mean = rest.reduce((a, b) => a + b, 0) / rest.length;
        // the reading itself is kept out of the scatter that it is judged by
        const scatter = squaresOf(rest) + squaresOfOthers;
        if (dof === 0 || scatter === 0) return;
        tests++;
        const t = (own[k]! - mean) / Math.sqrt((scatter / dof) * (1 + 1 / rest.length));
        if (!Number.isFinite(t)) return; // in units of nothing: another finding speaks of that
        const p = 2 * tCdf(-Math.abs(t), dof);
        if (!lone || p < lone.p) lone = { condition: condition.name, row, channel, ratio: own[k]! / mean, p };
      });
    });
  }
  return { lone, tests };
}

/** Readings in units of what one of that condition should scatter by, were it like the others. */
function scaledReadings({ perReading, weightCovariance, count }: NetCondition, channel: number): number[] {
  const n = Math.sqrt(weightCovariance.length);
  const values = perReading.map(({ normalised }) => normalised[channel]!);
  const variance = weightCovariance[channel * (n + 1)]! * count;
  const unit = variance > 0 ? Math.sqrt(variance) : values.reduce((a, b) => a + b, 0) / values.length;
  return values.map((value) => value / unit);
}

function squaresOf(values: readonly number[]): number {
  const mean = values.reduce((a, b) => a + b, 0) / values.length;
  return values.reduce((total, value) => total + (value - mean) * (value - mean), 0);
}

function describeLone(series: Series, name: string, channel: string, { condition, row, ratio, p }: Lone): Finding {
  const { id } = series.readings[row]!;
  return {
    level: "warning",
    code: "reading-alone",
    message: `${name}: reading ${id} of ${condition} stands alone, ${Math.abs(ratio - 1) < 1 ? `${percent(ratio - 1)} from` : `${significant(ratio, 3)} times`} the mean of its repeats in ${channel} (p = ${significant(p, 2)} over the series).`,
    effect: `It pulls the mean of ${condition} with it, and widens the scatter of the whole series.`,
    remedy: `${likelySlip(ratio)} Read it again, or leave it out with a reason.`,
    where: { series: name, reading: id, condition, column: `signal_${channel}` },
    facts: { ratio, p },
  };
}

/** A reading far from its repeats. */
export const readingAlone: Rule = {
  code: "reading-alone",
  level: "warning",
  sees: "a reading that deviates from its repeats by more than chance explains (t test, Šidák over all readings)",
  threshold: { value: FAMILY_LEVEL, unit: "1", source: "a share of 1 % per campaign" },
  check({ separation, calibration, outputFactors, series, channels }) {
    const stages = [
      ["separation", separation?.net, series.separation],
      ["calibration", calibration?.net, series.calibration],
      ["output-factors", outputFactors?.net, series["output-factors"]],
    ] as const;
    const all = stages.map(([name, net, own]) => ({ name, own, ...loneReading(net?.conditions ?? []) }));
    const tests = all.reduce((total, one) => total + one.tests, 0);
    return all.flatMap(({ name, own, lone }) => {
      if (!lone || !own) return [];
      const p = sidakFamily(lone.p, tests);
      return p < FAMILY_LEVEL ? [describeLone(own, name, channels[lone.channel]!, { ...lone, p })] : [];
    });
  },
};
