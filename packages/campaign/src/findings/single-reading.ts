import { list } from "./in-words.ts";
import type { Rule } from "./rule.ts";

/** Conditions read once in a series where others were repeated. */
export const singleReading: Rule = {
  code: "single-reading",
  level: "warning",
  sees: "a condition with one reading that counts, in a series with repeats",
  check({ separation, calibration, outputFactors }) {
    const stages = [separation?.net, calibration?.net, outputFactors?.net];
    return stages.flatMap((net) => {
      const once =
        net?.dof === undefined ? [] : net.conditions.filter(({ count }) => count === 1).map(({ name }) => name);
      if (!net || once.length === 0) return [];
      return [
        {
          level: "warning" as const,
          code: "single-reading",
          message: `${net.name}: ${list(once)} ${once.length === 1 ? "has" : "have"} one reading only.`,
          effect:
            "A mistake in that reading goes into the result unseen; its scatter is taken from the other conditions.",
          remedy: "Read it at least three times.",
          where: { series: net.name, condition: once[0]! },
        },
      ];
    });
  },
};
