import type { Rule } from "./rule.ts";

/** A dose group with a single fit condition and no known dose. */
export const loneCondition: Rule = {
  code: "lone-condition",
  level: "notice",
  sees: "one fit condition alone in its dose group, whose dose is not known",
  check({ separation }) {
    const fit = separation?.conditions.filter(({ role }) => role === "fit") ?? [];
    return fit
      .filter(
        ({ divisor, doseGroup }) => divisor !== "dose" && fit.filter((c) => c.doseGroup === doseGroup).length === 1,
      )
      .map(({ name, doseGroup }) => ({
        level: "notice",
        code: "lone-condition",
        message: `separation: ${name} is the only fit condition of its dose group ${doseGroup}, and says nothing about the stem ratio.`,
        remedy: "Add a second condition of that group with another length of fibre, or give its dose in dose_Gy.",
        where: { series: "separation", condition: name },
      }));
  },
};
