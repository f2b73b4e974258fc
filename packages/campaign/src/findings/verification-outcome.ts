import { propagate } from "@alcedo-dosimetry/metrology";
import type { Evaluated } from "../evaluated.ts";
import type { Finding } from "../finding.ts";
import { percent, significant } from "./in-words.ts";
import type { Rule } from "./rule.ts";

/** What the slope of all residuals on stem load says of the stem ratio, where it stands out of its uncertainty. */
function slopeInWords({ model, slope }: Evaluated): string {
  if (!slope) return "";
  const { value, U } = propagate(model, slope);
  if (!(Math.abs(value) > U)) return "";
  return ` The residuals change with the stem load as an error of ${significant(-value, 2)} in the stem ratio (U ${significant(U, 2)}) would make them.`;
}

const criterion = ({ assumptions }: Evaluated) => assumptions.values.separationResidual_percent / 100;

/** A condition kept aside that the weights do not describe. */
export const verificationFailed: Rule = {
  code: "verification-failed",
  level: "warning",
  sees: "a residual beyond the criterion, significant at 0.5 % over all verifications (Šidák)",
  threshold: { value: 0.005, unit: "1", source: "criteria.separationResidual_percent; common practice" },
  check(evaluated) {
    const failed = evaluated.verifications.filter(({ verdict }) => verdict === "failed");
    return failed.map(({ condition, residual }): Finding => {
      const { value, U } = propagate(evaluated.model, residual);
      const explained = slopeInWords(evaluated);
      return {
        level: "warning",
        code: "verification-failed",
        message: `separation: ${condition.name} was kept aside and reads ${percent(value)} off its group (U ${percent(U)}), beyond the criterion of ${percent(criterion(evaluated))}.`,
        effect: `The separation does not hold at a stem load of ${significant(condition.load.value, 3)}.${explained}`,
        remedy:
          "Do not use the characterisation. See whether the dose was equal, whether a channel saturated with much fibre, and whether the output drifted between conditions; then measure the separation anew.",
        where: { series: "separation", condition: condition.name },
        facts: { residual: value, U, stemLoad: condition.load.value },
      };
    });
  },
};

/** A condition kept aside that proves nothing either way. */
export const verificationInconclusive: Rule = {
  code: "verification-inconclusive",
  level: "notice",
  sees: "a residual that is neither within the criterion with U ≤ twice the criterion, nor significantly beyond it",
  check(evaluated) {
    const open = evaluated.verifications.filter(({ verdict }) => verdict === "inconclusive");
    return open.map(({ condition, residual }): Finding => {
      const { value, U, typeAUnknown } = propagate(evaluated.model, residual);
      return {
        level: "notice", // the standing of the stage says the rest
        code: "verification-inconclusive",
        message: typeAUnknown
          ? `separation: ${condition.name} is ${percent(value)} off its group, and without repeats nobody can tell how much of that is chance.`
          : `separation: ${condition.name} is ${percent(value)} off its group with U ${percent(U)}; that neither proves nor disproves the separation to ${percent(criterion(evaluated))}.`,
        effect: "The verified range of stem load does not reach to this condition.",
        remedy: "Take more repeats of it and of the fit conditions.",
        where: { series: "separation", condition: condition.name },
        facts: { residual: value, ...(Number.isFinite(U) && { U }) },
      };
    });
  },
};
