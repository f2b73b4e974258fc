import { propagate } from "@alcedo-dosimetry/metrology";
import { list, percent, significant } from "./in-words.ts";
import type { Rule } from "./rule.ts";

/** Output factors that a set from elsewhere contradicts. */
export const setDisagrees: Rule = {
  code: "set-disagrees",
  level: "warning",
  sees: "a difference from the reference set beyond its expanded uncertainty",
  threshold: { value: 1, unit: "1", source: "|E_n| ≤ 1, ISO 13528" },
  check({ comparisons, model }) {
    return (comparisons?.compared ?? []).flatMap(({ source, condition, difference }) => {
      const { value, U } = propagate(model, difference);
      if (!(U > 0 && Math.abs(value) > U)) return [];
      return [
        {
          level: "warning" as const,
          code: "set-disagrees",
          message: `output-factors: ${condition} is ${percent(value)} off the value of ${source} (U of the difference ${percent(U)}, E_n ${significant(value / U, 2)}).`,
          effect: "One of the two is wrong, or one of the uncertainties is too small.",
          remedy: "Compare sizes and set-up of the field on both sides before either is used.",
          where: { series: "reference-set", condition },
          facts: { difference: value, U },
        },
      ];
    });
  },
};

/** Fields that a set does not reach to. */
export const setTooShort: Rule = {
  code: "set-too-short",
  level: "notice",
  sees: "a field whose equivalent square lies outside the reference set",
  check({ comparisons }) {
    const outside = comparisons?.outside ?? [];
    return [...new Set(outside.map(({ source }) => source))].map((source) => ({
      level: "notice" as const,
      code: "set-too-short",
      message: `reference-set: ${source} has no values around ${list(outside.filter((one) => one.source === source).map(({ condition }) => condition))}, and nothing is extrapolated.`,
      where: { series: "reference-set" },
    }));
  },
};
