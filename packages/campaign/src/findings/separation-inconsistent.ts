import { FAMILY_LEVEL } from "./false-alarms.ts";
import { percent, significant } from "./in-words.ts";
import type { Rule } from "./rule.ts";

const LEVEL = 0.01;

/** Fit conditions that do not lie on one line within their uncertainties. */
export const separationInconsistent: Rule = {
  code: "separation-inconsistent",
  level: "warning",
  sees: "χ²/dof of the fit too large for chance, against F with the pooled degrees of freedom",
  threshold: { value: LEVEL, unit: "1", source: "p of the F test; chosen by simulation, see docs/physics.md 2" },
  check({ separation }) {
    if (separation?.p === undefined || separation.p >= LEVEL) return [];
    const { conditions, chi2, dof, p, state } = separation;
    const fit = conditions.filter(({ role }) => role === "fit");
    const worst = state.residuals.reduce((at, r, i) => (Math.abs(r) > Math.abs(state.residuals[at]!) ? i : at), 0);
    const { name, corrected, expected, level } = fit[worst]!;
    const off = corrected.value / (expected!.value * level.value) - 1;
    return [
      {
        level: p < FAMILY_LEVEL ? "warning" : "notice",
        code: "separation-inconsistent",
        message: `separation: the fit conditions disagree with each other, χ² = ${significant(chi2, 3)} at ${dof} ${dof === 1 ? "degree" : "degrees"} of freedom (p = ${significant(p, 2)}); ${name} stands farthest out, by ${percent(off)} of its dose.`,
        effect: "The stem ratio leans on readings that cannot all be right; its stated uncertainty is too small.",
        remedy: `Repeat ${name}, and see whether its dose was that of its group (same field, depth and output) and whether a channel saturated.`,
        where: { series: "separation", condition: name },
        facts: { chi2, dof, p },
      },
    ];
  },
};
