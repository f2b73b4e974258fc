import type { FieldFactors, OutputFactors } from "@alcedo-dosimetry/dosimetry";
import { list, significant } from "./in-words.ts";
import type { Rule } from "./rule.ts";

/** The reference field and all others. */
function fieldsOf(outputFactors: OutputFactors | undefined): readonly FieldFactors[] {
  return outputFactors ? [outputFactors.referenceFactors, ...outputFactors.fields] : [];
}

/** Fields whose measured widths are not given. */
export const fieldWidthNominal: Rule = {
  code: "field-width-nominal",
  level: "warning",
  sees: "a field without measured widths",
  check({ outputFactors }) {
    const nominal = fieldsOf(outputFactors)
      .filter(({ size }) => !size.measured)
      .map(({ name }) => name);
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
  check({ outputFactors }) {
    return fieldsOf(outputFactors).flatMap(({ name: condition, size: { outOfRange } }) =>
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

/** Fields narrower than the blur of their edges allows. */
export const fieldNarrowerThanBlur: Rule = {
  code: "field-narrower-than-blur",
  level: "notice",
  sees: "a measured width of 2.3548·σ or less: no sharp field blurred by σ is so narrow",
  threshold: { value: 2.3548, unit: "1", source: "FWHM of a Gaussian over its standard deviation" },
  check({ outputFactors }) {
    const narrow = fieldsOf(outputFactors).filter(({ model }) => model === "gaussian");
    return narrow.map(({ name, size: { widths } }) => ({
      level: "notice" as const,
      code: "field-narrower-than-blur",
      message: `output-factors: ${name} is ${significant(Math.min(widths[0].value, widths[1].value), 3)} mm wide, and a field blurred by the stated σ cannot be so narrow; it is taken as a Gaussian of that width.`,
      effect: "Its corrections for volume averaging and positioning are those of a Gaussian field.",
      remedy: "See whether the width is right, or state the blur of its edge in sigma_mm.",
      where: { series: "output-factors", condition: name, column: "sigma_mm" },
    }));
  },
};
