import { propagate, sidakFamily, tCdf } from "@alcedo-dosimetry/metrology";
import { seriesOf } from "./counted-readings.ts";
import { FAMILY_LEVEL } from "./false-alarms.ts";
import { percent, significant } from "./in-words.ts";
import type { Rule } from "./rule.ts";

/** Part of the smallest reading that a move of the background may amount to (common practice). */
const LIMIT = 0.001;

/** Groups of background readings that disagree by more than their scatter and by enough to matter. */
export const backgroundMoved: Rule = {
  code: "background-moved",
  level: "warning",
  sees: "two groups of the background differ by more than chance (t test, Šidák over groups and channels), and by more than 0.1 % of the smallest reading over its duration",
  threshold: { value: LIMIT, unit: "1", source: "common practice" },
  check({ background, signals, series, channels, model }) {
    if (!background || background.groups.length < 2 || signals.length === 0) return [];
    const seconds = Math.max(
      ...seriesOf(series).flatMap(({ readings }) => readings.map(({ duration_s }) => duration_s ?? 0)),
    );
    return channels.flatMap((channel, c) => {
      const rates = background.groups.map(({ rates: own }) => own[c]!);
      const high = rates.reduce((a, b) => (b.value > a.value ? b : a));
      const low = rates.reduce((a, b) => (b.value < a.value ? b : a));
      const value = high.value - low.value;
      const smallest = signals.reduce((a, b) => (b.signals[c]!.value < a.signals[c]!.value ? b : a));
      const part = (value * seconds) / smallest.signals[c]!.value;
      if (!(part > LIMIT)) return [];
      const { u, dof } = propagate(model, high.minus(low));
      const pairs = (rates.length * (rates.length - 1)) / 2;
      const p = u > 0 ? sidakFamily(2 * tCdf(-value / u, dof), pairs * channels.length) : 0;
      if (!(p < FAMILY_LEVEL)) return [];
      const [from, to] = [high, low].map((rate) => background.groups.find(({ rates: own }) => own[c] === rate)!.name);
      return [
        {
          level: "warning" as const,
          code: "background-moved",
          message: `background: ${channel} differs between ${from} and ${to} by ${significant(value, 2)} ${high.unit.symbol}, ${significant(value / u, 2)} times its standard uncertainty (p = ${significant(p, 2)}).`,
          effect: `Over a reading it amounts to ${percent(part)} of the smallest net signal (${smallest.condition}).`,
          remedy:
            "See whether a light was on, the range or the integration time was changed, or the reader had not warmed up; then take the background again.",
          where: { series: "background", condition: from!, column: `signal_${channel}` },
          facts: { difference: value, u, part, p },
        },
      ];
    });
  },
};
