import type { Rule } from "./rule.ts";

/** A fit that agrees with itself by construction, and nothing kept aside to test it. */
export const separationUntested: Rule = {
  code: "separation-untested",
  level: "warning",
  sees: "as many unknowns as conditions in the fit, and no verification",
  check({ separation, verifications, stopped, typed }) {
    if (!separation || stopped.has("separation") || separation.dof > 0 || verifications.length > 0) return [];
    return [
      {
        level: "warning",
        code: "separation-untested",
        message: `separation: ${separation.conditions.length} conditions determine the fit, so its residuals are zero by construction and prove nothing.`,
        effect: "A wrong stem ratio would go unseen into every dose and output factor.",
        remedy:
          "Irradiate a third arrangement at the same dose, best with more fibre in the beam than any so far, and give it the role verify.",
        where: { series: "separation", column: "role", ...(typed.separation && { file: typed.separation.file }) },
      },
    ];
  },
};
