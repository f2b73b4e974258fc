import { list, percent, significant } from "./in-words.ts";
import type { Rule } from "./rule.ts";

/** Readings that lean on the stem ratio more than anything that proved it. */
export const stemLoadBeyondVerified: Rule = {
  code: "stem-load-beyond-verified",
  level: "warning",
  sees: "a stem load above the verified range",
  check({ range, signals, weights }) {
    const highest = range?.highest;
    if (!highest || !weights) return [];
    const limit = highest.load.value;
    // the range is a set of arrangements: one that equals its end to within rounding of the display is inside
    const beyond = signals.filter(({ series, load }) => series !== "separation" && load.value > limit * 1.005);
    if (beyond.length === 0) return [];
    const most = beyond.reduce((a, b) => (b.load.value > a.load.value ? b : a));
    const rho = weights.stemRatio;
    // δS/S = −ℓ·δρ; of a ratio of two signals the difference of their loads would remain
    const relative = rho && 0.01 * rho.value * most.load.value;
    return [
      {
        level: "warning",
        code: "stem-load-beyond-verified",
        message: `${list(beyond.map(({ series, condition }) => `${condition} (${series})`))}: the stem load reaches ${significant(most.load.value, 3)}, and the separation is verified up to ${significant(limit, 3)} (${highest.name}).`,
        ...(relative !== undefined && {
          effect: `There an error of 1 % in the stem ratio would move the corrected signal of ${most.condition} by ${percent(relative)}.`,
        }),
        remedy:
          "Verify the separation with more fibre in the beam, or route the fibre so that less of it is irradiated.",
        where: { series: most.series, condition: most.condition },
        facts: { stemLoad: most.load.value, verified: limit },
      },
    ];
  },
};
