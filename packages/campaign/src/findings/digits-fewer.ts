import type { Reading } from "@alcedo-dosimetry/dosimetry";
import { ln } from "@alcedo-dosimetry/metrology";
import type { Finding } from "../finding.ts";
import { countedReadings } from "./counted-readings.ts";
import { significant } from "./in-words.ts";
import type { Rule } from "./rule.ts";

const log10 = (x: number) => ln(x) / ln(10);

/** Chance, over all conditions of a series, that zeros at the end which a spreadsheet drops look like that. */
const CHANCE = 1e-4;

/** Digits that all readings of a condition lack beside the finest of the channel, and what they should show. */
function lacking(own: readonly Reading[], all: readonly Reading[], channel: number): number {
  const finest = Math.min(...all.map(({ digits }) => digits[channel]!));
  const least = Math.min(...own.map(({ digits }) => digits[channel]!));
  const lost = Math.round(log10(least / finest));
  if (lost < 1) return 0;
  // a reader that changes its range shows fewer decimals of larger readings: one for each factor of ten
  const fine = all
    .filter(({ digits }) => digits[channel]! < least * 0.5)
    .map(({ signals }) => Math.abs(signals[channel]!));
  const smallest = Math.min(...own.map(({ signals }) => Math.abs(signals[channel]!)));
  const ratio = smallest / Math.max(...fine);
  return ratio > 1 && lost <= 1 + log10(ratio) ? 0 : lost;
}

/** A condition whose readings were written down with fewer digits than the others. */
export const digitsFewer: Rule = {
  code: "digits-fewer",
  level: "warning",
  sees: "all readings of a condition with fewer decimals than smaller or equal readings of the same channel, beyond what dropped zeros explain",
  threshold: { value: CHANCE, unit: "1", source: "chance of zeros at the end, a tenth for each digit of each reading" },
  check({ series, channels }) {
    return countedReadings(series).flatMap(({ name, readings }): Finding[] => {
      const conditions = [...new Set(readings.map(({ condition }) => condition))];
      return conditions.flatMap((condition): Finding[] => {
        const own = readings.filter((reading) => reading.condition === condition);
        const lost = channels.map((_, c) => lacking(own, readings, c));
        const all = lost.reduce((sum, digits) => sum + digits, 0) * own.length;
        if (all === 0 || !(all - log10(conditions.length) > -log10(CHANCE))) return [];
        const worst = lost.indexOf(Math.max(...lost));
        const digit = Math.min(...own.map(({ digits }) => digits[worst]!));
        return [
          {
            level: "warning",
            code: "digits-fewer",
            message: `${name}: ${channels[worst]!} of ${condition} is written to ${significant(digit, 1)}, where other readings of the channel are written to ${significant(Math.min(...readings.map(({ digits }) => digits[worst]!)), 1)}.`,
            effect: "The rounding is larger than the last digit that the uncertainty allows for.",
            remedy: "Write down all digits that the reader showed, zeros at the end included, or read it again.",
            where: { series: name, condition, column: `signal_${channels[worst]!}` },
            facts: { digit },
          },
        ];
      });
    });
  },
};
