import { ln, propagate, type Scalar } from "@alcedo-dosimetry/metrology";
import { percent, significant } from "./in-words.ts";
import type { Rule } from "./rule.ts";

/** By how much d ln Ω/d ln S may fall towards smaller fields of one shape (proposed default; smooth curves: up to 0.03). */
const LIMIT = 0.06;

/**
 * Output factors that fall more slowly towards smaller fields than between larger ones. Smaller fields lose scatter and
 * then equilibrium and source, so the curve of ln Ω on ln S steepens; where it flattens, the field in the middle reads low
 * or the smallest of the three high.
 */
export const outputFactorFlattens: Rule = {
  code: "output-factor-flattens",
  level: "warning",
  sees: "three fields of one shape, each a fifth larger than the next, with a slope of ln Ω on ln S lower by more than the limit and U on the side of the smaller fields",
  threshold: { value: LIMIT, unit: "1", source: "proposed default; output factors steepen towards small fields" },
  check({ outputFactors, model, typed }) {
    if (!outputFactors) return [];
    const { fields, referenceFactors } = outputFactors;
    const shapes = new Map(typed["output-factors"]?.readings.map(({ condition, shape }) => [condition, shape]));
    const one = { name: referenceFactors.name, square: referenceFactors.size.equivalentSquare, factor: undefined };
    const all: { name: string; square: Scalar; factor: Scalar | undefined }[] = [
      one,
      ...fields.map(({ name, size, outputFactor }) => ({ name, square: size.equivalentSquare, factor: outputFactor })),
    ];
    return ["rectangle", "circle"].flatMap((shape) => {
      const own = all.filter(({ name }) => shapes.get(name) === shape).sort((a, b) => b.square.value - a.square.value);
      return own.flatMap((small, i) => {
        const [large, middle] = [own[i - 2], own[i - 1]];
        if (!large || !middle) return [];
        const apart = (a: typeof small, b: typeof small) => a.square.value > 1.2 * b.square.value;
        if (!apart(large, middle) || !apart(middle, small)) return [];
        const steepness = (a: typeof small, b: typeof small) =>
          ln((a.factor?.value ?? 1) / (b.factor?.value ?? 1)) / ln(a.square.value / b.square.value);
        // most curves steepen: nodes only where one does not
        if (!(steepness(large, middle) - steepness(middle, small) > LIMIT)) return [];
        const slope = (a: typeof small, b: typeof small) => {
          const rise = a.factor && b.factor ? a.factor.over(b.factor) : (a.factor ?? b.factor!.power(-1));
          return rise.logarithm().over(a.square.over(b.square).logarithm());
        };
        const { value, U } = propagate(model, slope(large, middle).minus(slope(middle, small)));
        if (!(value > U)) return [];
        return [
          {
            level: "warning" as const,
            code: "output-factor-flattens",
            message: `output-factors: from ${middle.name} to ${small.name} the output factor falls more slowly with the field's size than from ${large.name} to ${middle.name} (slope of ln Ω on ln S lower by ${significant(value, 2)}, U ${significant(U, 2)}); towards small fields it steepens.`,
            effect: `${small.name} may be too high, or ${middle.name} too low, by a few per cent (${percent(value / 5)} or more).`,
            remedy:
              "See whether both fields were set and measured as written, whether a correction was applied twice, and whether the detector stood in the centre.",
            where: { series: "output-factors", condition: small.name },
            facts: { difference: value, U },
          },
        ];
      });
    });
  },
};
