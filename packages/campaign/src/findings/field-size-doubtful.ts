import { list, significant } from "./in-words.ts";
import type { Rule } from "./rule.ts";

/** Fields whose measured widths are not given. */
export const fieldWidthNominal: Rule = {
  code: "field-width-nominal",
  level: "warning",
  sees: "a field without measured widths",
  check({ sizes }) {
    const nominal = [...sizes].filter(([, { measured }]) => !measured).map(([condition]) => condition);
    if (nominal.length === 0) return [];
    return [
      {
        level: "warning",
        code: "field-width-nominal",
        message: `output-factors: no measured widths (fwhm_x_mm, fwhm_y_mm) for ${list(nominal)}; the nominal size is used.`,
        effect:
          "Against nominal sizes, output factors of machines of one type were seen to differ by nearly 10 % in the smallest fields.",
        remedy: "Scan the field at depth with the collimator as set for the reading, and enter both widths.",
        where: { series: "output-factors", condition: nominal[0]!, column: "fwhm_x_mm" },
      },
    ];
  },
};

/** Fields too long for the formula of the equivalent square. */
export const fieldTooOblong: Rule = {
  code: "field-too-oblong",
  level: "warning",
  sees: "A/B outside 0.7 to 1.4",
  threshold: { value: 1.4, unit: "1", source: "IAEA TRS-483" },
  check({ sizes }) {
    return [...sizes].flatMap(([condition, { outOfRange }]) =>
      outOfRange
        ? [
            {
              level: "warning" as const,
              code: "field-too-oblong",
              message: `output-factors: ${condition} has ${outOfRange.quantity} = ${significant(outOfRange.value, 3)}; the equivalent square √(A·B) holds for ${outOfRange.holds}.`,
              effect: "Its equivalent square, and comparisons at it, are not to be relied on.",
              remedy: "Use a squarer field, or compare it with data of its own shape.",
              where: { series: "output-factors", condition },
              facts: { aspect: outOfRange.value },
            },
          ]
        : [],
    );
  },
};
