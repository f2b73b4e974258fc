import { propagate } from "@alcedo-dosimetry/metrology";
import type { Evaluated, PlainSignal } from "../evaluated.ts";
import { percent } from "./in-words.ts";
import type { Rule } from "./rule.ts";

/** A change that matters (common practice: constancy of an output). */
const LIMIT = 0.02;
/** Beyond this two things of one name are two things. */
const SAME = 0.3;

/** Mean monitor units of the readings of a condition that count; none where one of them has none. */
function meanMu({ series }: Evaluated, { series: name, condition }: PlainSignal): number | undefined {
  const own = (series[name]?.readings ?? []).filter((one) => one.condition === condition && one.exclude === undefined);
  const mu = own.flatMap((one) => (one.mu === undefined ? [] : [one.mu]));
  return mu.length > 0 && mu.length === own.length ? mu.reduce((a, b) => a + b, 0) / mu.length : undefined;
}

/** A reference field that gives another corrected signal than a dose group of the separation which has its name. */
export const referenceNotAsSeparated: Rule = {
  code: "reference-not-as-separated",
  level: "warning",
  sees: "corrected signal per MU of the reference field 2 to 30 % and more than U off that of the separation's dose group of the same name",
  threshold: { value: LIMIT, unit: "1", source: "common practice: 2 % for the constancy of an output" },
  check(evaluated) {
    const { signals, typed, outputFactors, model } = evaluated;
    const name = outputFactors?.referenceFactors.name;
    const reference = signals.find(({ series, condition }) => series === "output-factors" && condition === name);
    const mu = reference && meanMu(evaluated, reference);
    if (!reference || !mu) return [];
    const group = new Set(
      typed.separation?.readings
        .filter((one) => one.role === "fit" && (one.doseGroup === name || one.condition === name))
        .map(({ condition }) => condition),
    );
    const found = signals
      .filter(({ series, condition }) => series === "separation" && group.has(condition))
      .flatMap((own) => {
        const ownMu = meanMu(evaluated, own);
        if (!ownMu) return [];
        const off = ((reference.corrected.value / own.corrected.value) * ownMu) / mu - 1;
        return Math.abs(off) > LIMIT && Math.abs(off) < SAME ? [{ own, ownMu, off }] : [];
      });
    const worst = found.sort((a, b) => Math.abs(b.off) - Math.abs(a.off))[0];
    if (!worst) return [];
    const ratio = reference.corrected.over(worst.own.corrected).times(worst.ownMu / mu);
    const { value, U } = propagate(model, ratio.minus(1));
    if (!(Math.abs(value) > U)) return [];
    return [
      {
        level: "warning",
        code: "reference-not-as-separated",
        message: `output-factors: per monitor unit ${name!} gives ${percent(Math.abs(value))} ${value > 0 ? "more" : "less"} corrected signal than ${worst.own.condition} in the separation (U ${percent(U)}), which goes by the same name.`,
        effect:
          "If both are the same field at the same depth, something changed between them, and the stem ratio may no longer hold.",
        remedy:
          "See whether the fibre aged or was moved, whether energy, gain or connector changed, and measure the separation anew; if the set-ups differ, give the dose group another name.",
        where: { series: "output-factors", condition: name! },
        facts: { difference: value, U },
      },
    ];
  },
};
