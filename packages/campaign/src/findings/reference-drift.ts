import { propagate } from "@alcedo-dosimetry/metrology";
import { percent } from "./in-words.ts";
import type { Rule } from "./rule.ts";

const LIMIT = 0.005;

/** A reference field whose reading moved over the series. */
export const referenceDrift: Rule = {
  code: "reference-drift",
  level: "warning",
  sees: "the corrected signal of the reference moves by more than the limit and more than its expanded uncertainty",
  threshold: { value: LIMIT, unit: "1", source: "common practice" },
  check({ outputFactors, model }) {
    const drift = outputFactors?.reference.drift;
    if (!drift) return [];
    const { value, U } = propagate(model, drift);
    if (!(value > LIMIT && value > U)) return [];
    return [
      {
        level: "warning",
        code: "reference-drift",
        message: `output-factors: the reference field moved by ${percent(value)} over the series (U ${percent(U)}).`,
        effect:
          "Each output factor is taken against the reference at its own time, where times are given; what may have happened in between is in its uncertainty.",
        remedy: "Find out why (output, temperature, fibre moved), and read the reference more often.",
        where: { series: "output-factors" },
        facts: { drift: value, U },
      },
    ];
  },
};
