import { list, percent } from "./in-words.ts";
import type { Rule } from "./rule.ts";

/** A monitor whose reading per monitor unit depends on the field. */
export const monitorSeesField: Rule = {
  code: "monitor-sees-field",
  level: "warning",
  sees: "monitor per MU in a field differs from that in the reference by more than the limit and more than U",
  threshold: { value: 0.003, unit: "1", source: "proposed default" },
  check({ outputFactors }) {
    const differences = outputFactors?.monitor?.differences ?? [];
    if (differences.length === 0) return [];
    const worst = differences[0]!;
    return [
      {
        level: "warning",
        code: "monitor-sees-field",
        message: `output-factors: per monitor unit the monitor reads ${percent(Math.abs(worst.difference))} ${worst.difference > 0 ? "more" : "less"} in ${worst.condition} than in the reference field${differences.length > 1 ? ` (also in ${list(differences.slice(1).map(({ condition }) => condition))})` : ""}: it sees the field, by shading or scatter.`,
        effect: `Divided by the monitor, the output factor of ${worst.condition} would be wrong by about ${percent(-worst.difference)}; the series is normalised by MU instead.`,
        remedy: "Place the monitor where the field's size does not reach it, or use it not at all.",
        where: { series: "output-factors", condition: worst.condition, column: "monitor" },
        facts: { difference: worst.difference, U: worst.U },
      },
    ];
  },
};
