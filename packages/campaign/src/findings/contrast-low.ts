import { significant } from "./in-words.ts";
import type { Rule } from "./rule.ts";

const WANTED = 2.5;
const LEAST = 1.5;

/** Too little difference between little and much fibre. */
export const contrastLow: Rule = {
  code: "contrast-low",
  level: "warning",
  sees: "the second channel per dose grows too little from the condition with least to that with most fibre",
  threshold: { value: LEAST, unit: "1", source: "proposed default, from simulation; 2.5 is wanted" },
  check({ separation, stopped }) {
    if (!separation || stopped.has("separation") || separation.contrast.value >= WANTED) return [];
    const contrast = separation.contrast.value;
    const low = contrast < LEAST;
    return [
      {
        level: low ? "warning" : "notice",
        code: "contrast-low",
        message: `separation: between least and most fibre the second channel grows ${significant(contrast, 3)} times; ${low ? `under ${LEAST} the stem ratio is poorly determined` : `${WANTED} or more is wanted`}.`,
        effect: "The uncertainty of the stem ratio grows about as one over (contrast − 1).",
        remedy: "Put more fibre into the beam in the condition with much fibre, or less in the one with little.",
        where: { series: "separation" },
        facts: { contrast },
      },
    ];
  },
};
