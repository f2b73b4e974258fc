import { mean, Program, sum, Unit } from "@alcedo-dosimetry/metrology";
import type { Background, BackgroundGroup } from "./background-groups.ts";
import { addColumn, addDerived, addIncluded, addTimes, type Chain } from "./chain.ts";
import { conditionsOf, counting, lastDigit, meanTime, type Series } from "./readings.ts";
import { addRepeats, type RepeatedCondition } from "./repeats.ts";
import { addResolution } from "./resolution.ts";

const SECOND = Unit.parse("s");

/**
 * The background rate: per group the mean of M_c/t. It is one input common to every reading that it is taken from.
 * @param series with `duration_s` in every reading.
 */
export function addBackground(chain: Chain, series: Series): Background {
  const { model, channels, signalUnit } = chain;
  const signals = channels.map((channel, c) =>
    addColumn(chain, series, `signal_${channel}`, `M_${channel}`, signalUnit, ({ signals: own }) => own[c]),
  );
  const duration = addColumn(chain, series, "duration_s", "t", SECOND, ({ duration_s }) => duration_s);
  const included = addIncluded(chain, series);
  addTimes(chain, series);
  const n = channels.length;
  const program = new Program(
    [...channels.map((channel) => ({ symbol: `M_${channel}`, unit: signalUnit })), { symbol: "t", unit: SECOND }],
    channels.map((channel) => ({ symbol: `δM_${channel}`, unit: signalUnit })),
    (columns, display) => channels.map((_, c) => columns[c]!.plus(display[c]!).over(columns[n]!)),
  );
  const conditions = conditionsOf(series);
  const digits = channels.map((_, c) => lastDigit(series, c));
  const measured = conditions.map(({ name, rows }): RepeatedCondition => {
    const display = addResolution(chain, series, name, counting(series, rows).length, digits);
    const { means, state } = mean(model, { program, columns: [...signals, duration], rows, included }, display);
    const live = rows.map((row, i) => ({ row, i })).filter(({ row }) => series.readings[row]!.exclude === undefined);
    const seconds = live.reduce((total, { row }) => total + series.readings[row]!.duration_s!, 0) / live.length;
    return {
      name,
      means,
      columns: channels.map((channel) => ({ name: channel, symbol: `b_${channel}`, label: `background, ${channel}` })),
      readings: live.map(({ i }) => channels.map((_, c) => state.perRow[c * rows.length + i]!)),
      displayVariance: digits.map((digit) => (digit * digit) / 12 / (seconds * seconds)),
    };
  });
  const repeats = addRepeats(model, series.name, measured, "absolute");
  const unordered = conditions.map(
    ({ name, rows }, i): BackgroundGroup => ({
      name,
      count: counting(series, rows).length,
      time: meanTime(series, rows),
      rates: repeats.means[i]!.map((rate, c) =>
        rate.named(`background/${name}/${channels[c]!}`, `b_${channels[c]!},${name}`, `${name}, ${channels[c]!}`),
      ),
    }),
  );
  const timed = unordered.every(({ time }) => time !== undefined);
  const groups = timed ? unordered.sort((a, b) => a.time! - b.time!) : unordered;
  const total = groups.reduce((count, group) => count + group.count, 0);
  const shares = groups.map(({ name, count }) =>
    groups.length > 1
      ? addDerived(model, series.name, `${name}/share of readings`, `n_${name}`, `share of ${name}`, count / total)
      : 1,
  );
  const rates = channels.map((channel, c) =>
    sum(groups.map(({ rates: own }, k) => own[c]!.times(shares[k]!))).named(
      `background.${channel}`,
      `b_${channel}`,
      `background rate, ${channel}`,
    ),
  );
  const counted = series.readings.filter(({ exclude }) => exclude === undefined);
  const seconds = counted.reduce((sumOf, { duration_s }) => sumOf + duration_s!, 0) / counted.length;
  const noise =
    repeats.pooled && repeats.dof !== undefined
      ? { covariance: repeats.pooled.map((rate) => rate * seconds * seconds), dof: repeats.dof }
      : undefined;
  return { series: series.name, groups, rates, dof: repeats.dof, wild: repeats.wild, ...(noise && { noise }) };
}
