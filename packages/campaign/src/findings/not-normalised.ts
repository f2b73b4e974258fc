import type { Rule } from "./rule.ts";

/** Output factors from readings that nothing makes comparable. */
export const notNormalised: Rule = {
  code: "not-normalised",
  level: "warning",
  sees: "output factors whose readings carry neither monitor units nor a monitor",
  check({ outputFactors, typed }) {
    if (outputFactors?.divisor !== "none") return [];
    return [
      {
        level: "warning",
        code: "not-normalised",
        message: "output-factors: neither mu nor monitor is given, so the readings are compared as they stand.",
        effect: "Unless all were taken with the same monitor units, the output factors are wrong by their ratio.",
        remedy: "Add the column mu.",
        where: {
          series: "output-factors",
          column: "mu",
          ...(typed["output-factors"] && { file: typed["output-factors"].file }),
        },
      },
    ];
  },
};
