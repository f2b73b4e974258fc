import { propagate } from "@alcedo-dosimetry/metrology";
import { percent } from "./in-words.ts";
import type { Rule } from "./rule.ts";

const LIMIT = 0.005;

/**
 * A reference field whose reading moved over the series. What moves slowly is followed by the visits, and what may happen
 * between them is in u: that is a notice. A move of that size from one visit to the next is not: nobody knows when it
 * came, and a step is no random walk.
 */
export const referenceDrift: Rule = {
  code: "reference-drift",
  level: "warning",
  sees: "the reference moves by more than the limit and more than its expanded uncertainty: from one visit to the next, or over the whole series where times are not given; over the series alone it is a notice",
  threshold: { value: LIMIT, unit: "1", source: "common practice" },
  check({ outputFactors, model }) {
    const { drift, step } = outputFactors?.reference ?? {};
    if (!drift) return [];
    const over = propagate(model, drift);
    if (!(over.value > LIMIT && over.value > over.U)) return [];
    const between = step && propagate(model, step);
    const sudden = between && Math.abs(between.value) > LIMIT && Math.abs(between.value) > between.U;
    const followed = between !== undefined && !sudden;
    return [
      {
        level: followed ? "notice" : "warning",
        code: "reference-drift",
        message: `output-factors: the reference field moved by ${percent(over.value)} over the series (U ${percent(over.U)})${sudden ? `, by ${percent(between.value)} from one visit to the next` : ""}.`,
        effect: followed
          ? "Each output factor is taken against the reference at its own time, and what may have happened in between is in its uncertainty."
          : "Each output factor is taken against the reference at its own time, where times are given; a step in between is carried only in part by its uncertainty.",
        remedy: followed
          ? "Nothing need be done; reading the reference more often makes the uncertainty smaller."
          : "Find out why (output, temperature, fibre moved, connector), and read the reference more often.",
        where: { series: "output-factors" },
        facts: { drift: over.value, U: over.U, ...(between && { step: between.value }) },
      },
    ];
  },
};
